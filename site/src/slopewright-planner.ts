// The module a page loads: registers <slopewright-planner>.
import { SlopewrightPlanner } from "./planner.js";
import { english } from "./words.js";

const name = "slopewright-planner";
if (!customElements.get(name)) customElements.define(name, SlopewrightPlanner);
else if (customElements.get(name) !== SlopewrightPlanner) console.warn(english.trouble.registered(name));

export { SlopewrightPlanner };
