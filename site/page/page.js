// The page is the element; all this adds is a few hills to look at.
const planner = document.querySelector("slopewright-planner");
for (const button of document.querySelectorAll("button[data-plan]")) {
  button.addEventListener("click", () => {
    planner.plan = button.dataset.plan;
    planner.scrollIntoView();
  });
}
