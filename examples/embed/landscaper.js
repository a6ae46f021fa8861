// All the host page does: listen, and take the plan when the visitor offers it.
const planner = document.querySelector("slopewright-planner");
const gist = document.querySelector("#gist");
const send = document.querySelector("#send");
const enquiry = document.querySelector("#enquiry");

planner.addEventListener("slopewright-result", (event) => {
  gist.textContent = event.detail.result.answer[0].says;
  send.disabled = false;
});
planner.addEventListener("slopewright-error", () => {
  gist.textContent = "There is something to put right in the plan first.";
  send.disabled = true;
});
// A real page would post it to its own server here.
const enquire = (plan) => {
  enquiry.hidden = false;
  enquiry.querySelector("textarea").value = JSON.stringify(plan, null, 2);
};
planner.addEventListener("slopewright-quote", (event) => {
  enquire(event.detail.plan);
  enquiry.scrollIntoView();
});
send.addEventListener("click", () => enquire(planner.plan));
