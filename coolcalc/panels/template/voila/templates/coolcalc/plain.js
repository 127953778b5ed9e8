// What the page does besides showing the notebook's outputs. Widgets cannot carry these marks from
// Python, so they are set here for those who hear the page instead of seeing it.
const plainPage = {
  count: 0,
  unfolded: new Set(),
  started() {
    document.getElementById("starting")?.remove();
    sessionStorage.removeItem("coolcalc-starts");
  },
  // A page that hears nothing from its program tries again by itself, twice, then says so.
  startAgain() {
    const starting = document.getElementById("starting");
    if (!starting) return;
    const starts = Number(sessionStorage.getItem("coolcalc-starts") ?? 0);
    sessionStorage.setItem("coolcalc-starts", starts + 1);
    if (starts < 2) {
      location.reload();
      return;
    }
    sessionStorage.removeItem("coolcalc-starts");
    starting.setAttribute("role", "alert");
    starting.textContent =
      "This page does not start. Load it again; if it does not come, start the command again.";
  },
  // A field is described by its help and its error, and says when it is in error.
  describe(field) {
    const input = field.querySelector("input, select");
    if (!input) return;
    const notes = [...field.querySelectorAll(".coolcalc-help, .coolcalc-error")];
    for (const note of notes) note.id ||= `coolcalc-note-${(plainPage.count += 1)}`;
    const described = notes.map((note) => note.id).join(" ");
    if (input.getAttribute("aria-describedby") !== described) {
      input.setAttribute("aria-describedby", described);
    }
    const wrong = String(Boolean(field.querySelector(".coolcalc-error p")));
    if (input.getAttribute("aria-invalid") !== wrong) input.setAttribute("aria-invalid", wrong);
  },
  // The box that stays while its contents change is the one that a reader listens to.
  listen(box) {
    if (!box.hasAttribute("aria-live")) box.setAttribute("aria-live", "polite");
  },
  // What was unfolded stays so when a new answer replaces it.
  unfold(details) {
    if (plainPage.unfolded.has(details.querySelector("summary").textContent)) details.open = true;
  },
  // A page whose program has ended would go on showing an old answer: say so.
  async check() {
    const { baseUrl, kernelId } = JSON.parse(
      document.getElementById("jupyter-config-data")?.textContent ?? "{}",
    );
    if (!kernelId || document.getElementById("ended")) return;
    const alive = await fetch(`${baseUrl}api/kernels/${kernelId}`).then(
      (reply) => reply.ok,
      () => false,
    );
    if (alive) return;
    const notice = document.createElement("p");
    notice.id = "ended";
    notice.setAttribute("role", "alert");
    notice.textContent =
      "This page has stopped: figures typed from now on change nothing. Note them down, then " +
      "load the page again; if it does not come, start the command again.";
    document.body.prepend(notice);
  },
  update() {
    if (document.querySelector(".coolcalc-answer ol, .coolcalc-alert p")) plainPage.started();
    document.querySelectorAll(".coolcalc-field").forEach(plainPage.describe);
    document.querySelectorAll(".coolcalc-answer > .widget-html-content").forEach(plainPage.listen);
    document.querySelectorAll(".coolcalc details:not([open])").forEach(plainPage.unfold);
  },
};
document.addEventListener(
  "toggle",
  ({ target }) => {
    if (!target.isConnected) return;
    const name = target.querySelector("summary").textContent;
    plainPage.unfolded[target.open ? "add" : "delete"](name);
  },
  true,
);
new MutationObserver(plainPage.update).observe(document, { childList: true, subtree: true });
// By the time all has arrived, the program has answered: what is left takes about a second.
addEventListener("load", () => setTimeout(plainPage.startAgain, 15000));
setInterval(plainPage.check, 10000);
document.addEventListener("change", plainPage.check, true);
document.addEventListener("visibilitychange", plainPage.check);
// The server's own hooks: nothing to show between the start and the answer.
window.voila_heartbeat = window.voila_process = window.voila_finish = () => {};
