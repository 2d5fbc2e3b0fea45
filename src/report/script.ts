/**
 * The one inline script of the report: it lets tables be sorted by the heads of their columns, and lets the keyboard reach those that
 * are wider than the page, and only those. The page is complete without it. It reads no address, asks for nothing and writes no markup; its hash stands in the page's policy.
 *
 * A click sorts upwards, the next downwards, the third brings back the order of the page. A cell's number is that of
 * its first <data>; one without a number comes last in both directions. Words are compared as people do: bay-2 before
 * bay-10.
 */
export const script = `for (const table of document.querySelectorAll("table[data-sorts]")) {
  const body = table.tBodies[0];
  const asMade = [...body.rows];
  const heads = [...table.tHead.rows[0].cells];
  const words = new Intl.Collator(document.documentElement.lang, { numeric: true });
  const keyOf = (row, column) => {
    const cell = row.cells[column];
    const data = cell.querySelector("data");
    if (data !== null) return data.value === "" ? NaN : Number(data.value);
    return cell.classList.contains("number") ? NaN : cell.textContent.trim();
  };
  const compare = (a, b, sign) => {
    if (typeof a === "string" || typeof b === "string") return sign * words.compare(String(a), String(b));
    if (Number.isNaN(a) || Number.isNaN(b)) return Number.isNaN(a) - Number.isNaN(b);
    return sign * (a - b);
  };
  heads.forEach((head, column) => {
    const button = document.createElement("button");
    button.type = "button";
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => {
      const next = { ascending: "descending", descending: null }[head.getAttribute("aria-sort")];
      for (const other of heads) other.removeAttribute("aria-sort");
      if (next === null) return body.append(...asMade);
      head.setAttribute("aria-sort", next ?? "ascending");
      const sign = next === "descending" ? -1 : 1;
      body.append(...[...asMade].sort((a, b) => compare(keyOf(a, column), keyOf(b, column), sign)));
    });
  });
}
const reach = () => {
  for (const box of document.querySelectorAll(".scroll")) {
    const overflows = box.scrollWidth > box.clientWidth + 1;
    for (const [name, value] of [["role", "region"], ["tabindex", "0"], ["aria-labelledby", box.dataset.label]]) {
      if (overflows) box.setAttribute(name, value);
      else box.removeAttribute(name);
    }
  }
};
reach();
addEventListener("resize", reach);
document.addEventListener("toggle", reach, true);
`;
