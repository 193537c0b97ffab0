// What the supervisor reads before signing, on one page: the tooth, what was done, the verdict with its picture, the
// charts before and now, what contradicts and what is missing, and what was decided. Signing closes the visit.
import { getJson, getText } from "../api";
import type { App } from "../app";
import { h, inject } from "../dom";
import type { Visit } from "../model";
import { gaps } from "../next_step";
import type { Picture } from "../picture";
import { go } from "../route";
import type { Screen } from "../shell";
import { stairs } from "../stairs";
import { shownNumber } from "../teeth";
import { decisionWords } from "./visit";
import { verdictSigns } from "./outcome";

let filled: { visit: string; name: string; role: string; comment: string } | null = null;
let read: { key: string; charts: string; picture: string } | null = null;
let asked = "";

const keyOf = (visit: Visit): string => `${visit.id}:${visit.looks.map((look) => `${look.id}${JSON.stringify(look.film?.pairs ?? [])}${JSON.stringify(look.marks?.marks ?? [])}${look.takes.map((take) => take.id).join()}`).join(";")}`;

function load(app: App, visit: Visit): void {
  const key = keyOf(visit);
  if (read?.key === key || asked === key) return;
  asked = key;
  void app
    .guard(async () => {
      const look = visit.answer?.look;
      const [charts, picture] = await Promise.all([getText(`/api/visits/${visit.id}/charts`), look ? getJson<Picture>(`/api/visits/${visit.id}/looks/${look}/picture`) : null]);
      read = { key, charts, picture: picture?.svg ?? "" };
    })
    .then((done) => {
      if (done) app.redraw();
      else asked = "";
    });
}

const drawn = (markup: string, kind: string): HTMLElement => {
  const holder = h(kind === "figure" ? "figure" : "div", { class: kind });
  inject(holder, markup);
  return holder;
};

/** What is known of the visit and the patient, in a line. */
function facts(visit: Visit): HTMLElement {
  const entry = (name: string, value: string): HTMLElement => h("div", {}, h("dt", {}, name), h("dd", {}, value));
  const numb = visit.numb === null ? "numbness not noted" : visit.numb ? "numb" : "not numb";
  const feel = visit.feel === "not asked" ? "not asked how it feels" : `feels ${visit.feel}`;
  return h(
    "dl",
    { class: "facts" },
    entry(visit.teeth.length === 1 ? "Tooth" : "Teeth", visit.teeth.map((tooth) => shownNumber(tooth, visit.numbering)).join(", ")),
    entry("What was done", visit.procedure || "not said"),
    entry("By", visit.clinician || "not said"),
    entry("Patient", `${numb}, ${feel}`),
    entry("Decided", visit.decision === null || visit.decision === "other" ? "nothing yet" : decisionWords[visit.decision]),
  );
}

function sound(visit: Visit): HTMLElement {
  const answer = visit.answer;
  const title = answer ? visit.looks.find((look) => look.id === answer.look)?.title.toLowerCase() : "";
  return h(
    "section",
    { class: "read-sound", "aria-label": "Sound" },
    answer
      ? h(
          "p",
          { class: "verdict-line" },
          h("span", { class: "sign", "aria-hidden": "true" }, verdictSigns[answer.verdict]),
          h("strong", { class: "verdict-word" }, answer.verdict),
          h("span", {}, `${title}${answer.score === null ? "" : `, likeness ${answer.score.toFixed(0)} of 100`}`),
        )
      : h("p", {}, h("strong", {}, "The sound was not compared.")),
    read && read.picture !== "" && drawn(read.picture, "figure"),
  );
}

function open(visit: Visit): HTMLElement | null {
  const missing = gaps(visit);
  const against = visit.contradictions;
  if (missing.length === 0 && against.length === 0 && visit.changes.length === 0) return null;
  return h(
    "section",
    { class: "read-open", "aria-label": "What to look at" },
    ...against.map((one) => h("p", { class: "contradiction" }, h("strong", {}, one.plain), ` ${one.look_again}`)),
    missing.length > 0 && h("ul", { class: "gaps", id: "gaps" }, ...missing.map((gap) => h("li", {}, h("strong", {}, gap)))),
    visit.changes.length > 0 && h("p", {}, visit.changes.join(" ")),
  );
}

export function signScreen(app: App): Screen {
  const visit = app.visit;
  if (!visit) return { title: "Read and sign", back: { screen: "visits" }, body: [] };
  const home = { screen: "visit", visit: visit.id } as const;
  if (filled?.visit !== visit.id) filled = { visit: visit.id, name: visit.supervisor, role: visit.supervisor === "" ? "" : "supervisor", comment: "" };
  const now = filled;
  load(app, visit);
  const missing = gaps(visit).length + visit.contradictions.length;
  const locked = visit.signed !== null || app.server?.readOnly !== null;
  const sign = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    if (await app.change("POST", `/api/visits/${visit.id}/sign`, { name: now.name, role: now.role, comment: now.comment }, "Signed. The visit is closed.")) {
      filled = null;
      go(home);
    }
  };
  const field = (id: "name" | "role" | "comment", words: string, required: boolean, most: number): HTMLElement =>
    h("p", { class: "field" }, h("label", { for: id }, words), h("input", { id, type: "text", maxlength: most, required, autocomplete: "off", value: now[id], disabled: locked, "data-key": id, oninput: (event: Event) => (now[id] = (event.target as HTMLInputElement).value) }));
  return {
    title: `Read and sign: ${visit.label}`,
    back: home,
    body: [
      facts(visit),
      h("div", { class: "reading" }, sound(visit), h("div", { class: "read-side" }, read ? drawn(read.charts, "read-charts") : h("p", { class: "quiet" }, "One moment."), visit.looks.length > 2 && stairs(app, visit))),
      open(visit) ?? "",
      h(
        "form",
        { class: "sign-line", onsubmit: (event: SubmitEvent) => void sign(event) },
        field("name", "Name or staff label", true, 80),
        field("role", "Role", false, 80),
        field("comment", "Comment", false, 500),
        h("button", { type: "submit", class: "primary", "data-key": "sign", disabled: locked, ...(missing > 0 && { "aria-describedby": "gaps" }) }, missing === 0 ? "Sign" : `Sign with ${missing} ${missing === 1 ? "gap" : "gaps"}`),
        h("p", { class: "quiet" }, "Signing closes the visit: it can be read and exported, not changed."),
      ),
    ],
  };
}
