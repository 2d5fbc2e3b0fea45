/**
 * The same SVG path in fewer characters: points that repeat the one before are dropped, level and upright lines are written as such.
 * Paths of other than straight lines are left as they are.
 */
export function shortPath(d: string): string {
  if (!/^(?:[ML]-?[\d.]+,-?[\d.]+|Z)+$/.test(d)) return d;
  let [x, y] = ["", ""];
  let short = "";
  for (const [step, command = "", nextX = "", nextY = ""] of d.matchAll(/([ML])(-?[\d.]+),(-?[\d.]+)|Z/g)) {
    if (step === "Z") short += "Z";
    else if (command === "M") short += step;
    else if (nextX !== x && nextY !== y) short += step;
    else if (nextX !== x) short += `H${nextX}`;
    else if (nextY !== y) short += `V${nextY}`;
    if (step !== "Z") [x, y] = [nextX, nextY];
  }
  return short;
}
