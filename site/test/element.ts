// A host page's use of the element, held against the types made from the
// schemas. make check compiles it; nothing runs it.
import type { Plan, SlopewrightPlanner } from "../../build/test/slopewright-planner.js";

const planner: SlopewrightPlanner = document.querySelector("slopewright-planner")!;
planner.addEventListener("slopewright-result", (event) => {
  const risers: number = event.detail.result.layout.risers;
  const format: "slopewright.plan/1" = event.detail.plan.format;
  console.log(risers, format, event.detail.ms);
});
planner.addEventListener("slopewright-quote", (event) => void fetch("/enquiries", { method: "POST", body: JSON.stringify(event.detail.plan) }));
const plan: Plan = { format: "slopewright.plan/1", ground: { method: "total", rise: "1.2 m", run: 3.6 }, path: { width: "4 ft" } };
planner.plan = plan;
planner.plan = "plan.json";
// @ts-expect-error there is no such method
planner.plan = { ...plan, ground: { method: "guess" } };
// @ts-expect-error the result is the planner's own
planner.result = undefined;
