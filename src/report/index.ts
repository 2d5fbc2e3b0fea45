/** `keyworthy/report`: the pages of an audit and of a fleet, each one HTML text. */
export { renderFleet } from "./fleet-page.js";
export { renderReport } from "./render.js";
export { makeChartShapes, type ChartShapes } from "./charts/chart-shapes.js";
