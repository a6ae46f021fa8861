// The page is the element; all this adds is a few hills to look at, and what
// makes it work without a network.
const planner = document.querySelector("slopewright-planner");
for (const button of document.querySelectorAll("button[data-plan]")) {
  button.addEventListener("click", () => {
    planner.plan = button.dataset.plan;
    planner.scrollIntoView();
  });
}

// The browser draws it on the page's own time: what is waited for comes first.
planner.addEventListener("slopewright-result", () => setTimeout(() => (document.querySelector("link[rel=icon]").href = "icon.svg"), 1000), { once: true });

// What a person wrote is not the browser's to clear away.
planner.addEventListener("slopewright-change", () => void navigator.storage?.persist?.(), { once: true });

if ("serviceWorker" in navigator) {
  // What is put aside for the next visit does not compete with what this one waits for.
  await new Promise((resolve) => {
    void planner.ready?.().then(resolve);
    planner.addEventListener("slopewright-error", resolve, { once: true });
    setTimeout(resolve, 10_000);
  });
  const update = document.querySelector("#update");
  const had = navigator.serviceWorker.controller !== null;
  try {
    const registration = await navigator.serviceWorker.register("sw.js");
    const offer = () => {
      if (registration.waiting && had) update.hidden = false;
    };
    offer();
    registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", offer));
    update.querySelector("button").addEventListener("click", async () => {
      await planner.kept(); // nothing that was written is lost
      navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
      registration.waiting?.postMessage("use");
    });
    // The rest of the calculator, once the first answer stands and the line is free.
    const whole = async () => (await navigator.serviceWorker.ready).active?.postMessage("whole");
    setTimeout(() => navigator.connection?.saveData || void whole(), 2500);
  } catch {
    // Without it the page works as long as there is a network.
  }
}
