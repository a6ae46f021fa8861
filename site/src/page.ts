// The page is the element; all this adds is its language, a few hills to look
// at, and what makes it work without a network.
import { planner } from "./language.js";

async function begin(): Promise<void> {
  await customElements.whenDefined(planner.localName);
  for (const button of document.querySelectorAll<HTMLElement>("button[data-plan]")) {
    button.addEventListener("click", () => {
      planner.plan = button.dataset.plan;
      planner.scrollIntoView();
    });
  }

  // The browser draws it on the page's own time: what is waited for comes first.
  planner.addEventListener("slopewright-result", () => setTimeout(() => (document.querySelector<HTMLLinkElement>("link[rel=icon]")!.href = "icon.svg"), 1000), { once: true });

  // What a person wrote is not the browser's to clear away.
  planner.addEventListener("slopewright-change", () => void navigator.storage?.persist?.(), { once: true });

  if (!("serviceWorker" in navigator)) return;
  // What is put aside for the next visit does not compete with what this one waits for.
  await new Promise<unknown>((resolve) => {
    void planner.ready().then(resolve);
    planner.addEventListener("slopewright-error", resolve, { once: true });
    setTimeout(resolve, 10_000);
  });
  const update = document.querySelector<HTMLElement>("#update")!;
  const workers = navigator.serviceWorker;
  const had = workers.controller !== null;
  try {
    const registration = await workers.register("sw.js");
    const offer = () => {
      if (registration.waiting && had) update.hidden = false;
    };
    offer();
    registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", offer));
    update.querySelector("button")!.addEventListener("click", async () => {
      await planner.kept(); // nothing that was written is lost
      workers.addEventListener("controllerchange", () => location.reload());
      registration.waiting?.postMessage("use");
    });
    // The rest of the calculator, once the first answer stands and the line is free.
    const whole = async () => (await workers.ready).active?.postMessage("whole");
    setTimeout(() => (navigator as { connection?: { saveData?: boolean } }).connection?.saveData || void whole(), 2500);
  } catch {
    // Without it the page works as long as there is a network.
  }
}

void begin();
