// The module a page loads: registers <slopewright-planner>.
import { SlopewrightPlanner } from "./planner.js";

const name = "slopewright-planner";
if (!customElements.get(name)) customElements.define(name, SlopewrightPlanner);
else if (customElements.get(name) !== SlopewrightPlanner) console.warn(`${name} is registered already, perhaps by another version; that one stays.`);

export { SlopewrightPlanner };
