// One look in the backbone: film, marks and sound side by side, each a target.
import { ServerError, send, upload } from "../api";
import type { App } from "../app";
import { h } from "../dom";
import type { Look, Visit } from "../model";
import { go } from "../route";

/** Starts listening for this look and shows it; without a device the screen says what to do instead. */
export async function record(app: App, visit: string, look: string, taps?: number): Promise<void> {
  app.outcome = null;
  try {
    await send("POST", "/api/record/start", { visit, look, ...(taps !== undefined && { taps }) });
  } catch (fault) {
    if (!(fault instanceof ServerError)) app.gone = "no answer";
    else app.outcome = { visit, look, kept: false, sentence: fault.message, reasons: [] };
  }
  go({ screen: "record", visit, look });
}

export async function addFile(app: App, visit: string, look: string, file: File): Promise<boolean> {
  app.notice = null;
  const done = await app.guard(async () => {
    app.visit = await upload<Visit>(`/api/visits/${visit}/looks/${look}/takes/upload?name=${encodeURIComponent(file.name)}`, file);
  });
  if (done) app.notice = { text: `${file.name} was added.`, kind: "said" };
  app.redraw();
  return done;
}

function soundWords(look: Look): string {
  const take = look.takes.at(-1);
  return take ? take.sentence : "Not recorded";
}

/** A look between the baseline and the newest: its findings in one line. */
export function lookLine(visit: Visit, look: Look): HTMLElement {
  const part = (key: "film" | "marks" | "take", name: string, words: string): HTMLElement =>
    h("button", { type: "button", class: "look-part", "data-key": `${key === "take" ? "sound" : key}-${look.id}`, onclick: () => go({ screen: key, visit: visit.id, look: look.id }) }, h("span", { class: "quiet" }, name), ` ${words}`);
  return h(
    "li",
    { class: `look look-line look-${look.kind}` },
    h("h2", {}, look.title, h("small", {}, look.when)),
    look.film && part("film", "Film", look.film.sentence),
    look.marks && part("marks", "Marks", look.marks.sentence),
    look.takes.length > 0 && part("take", "Sound", soundWords(look)),
  );
}

export function lookRow(app: App, visit: Visit, look: Look): HTMLElement {
  const locked = visit.signed !== null || app.server?.readOnly !== null;
  const cell = (key: string, name: string, words: string, done: boolean, run: () => void): HTMLElement =>
    h(
      "button",
      { type: "button", class: done ? "check done" : "check", "data-key": `${key}-${look.id}`, onclick: run },
      h("span", { class: "check-mark", "aria-hidden": "true" }, done ? "●" : "○"),
      h("strong", {}, name),
      h("span", {}, words),
    );
  const row = h(
    "li",
    { class: `look look-${look.kind}` },
    h("h2", {}, look.title, h("small", {}, look.when)),
    h(
      "div",
      { class: "checks" },
      cell("film", "Film", look.film?.sentence ?? "Not tested", look.film !== null, () => go({ screen: "film", visit: visit.id, look: look.id })),
      cell("marks", "Marks", look.marks?.sentence ?? "Not charted", look.marks !== null, () => go({ screen: "marks", visit: visit.id, look: look.id })),
      cell("sound", "Sound", soundWords(look), look.takes.some((take) => take.usable), () =>
        look.takes.length > 0 || locked ? go({ screen: "take", visit: visit.id, look: look.id }) : void record(app, visit.id, look.id),
      ),
    ),
  );
  if (!locked) {
    row.addEventListener("dragover", (event) => {
      event.preventDefault();
      row.classList.add("drop");
    });
    row.addEventListener("dragleave", () => row.classList.remove("drop"));
    row.addEventListener("drop", (event) => {
      event.preventDefault();
      row.classList.remove("drop");
      const file = event.dataTransfer?.files[0];
      if (file) void addFile(app, visit.id, look.id, file);
    });
  }
  return row;
}
