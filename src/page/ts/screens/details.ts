// Label, treated teeth, numbering and who works: asked for when there is time, never before the first tap.
import type { App } from "../app";
import { h } from "../dom";
import type { Numbering } from "../model";
import { go } from "../route";
import type { Screen } from "../shell";
import { lowerRow, shownNumber, upperRow } from "../teeth";

let edit: { visit: string; label: string; procedure: string; clinician: string; supervisor: string; numbering: Numbering; teeth: Set<number> } | null = null;

export function detailsScreen(app: App): Screen {
  const visit = app.visit;
  if (!visit) return { title: "Details", back: { screen: "visits" }, body: [] };
  if (edit?.visit !== visit.id) edit = { visit: visit.id, label: visit.label, procedure: visit.procedure, clinician: visit.clinician, supervisor: visit.supervisor, numbering: visit.numbering, teeth: new Set(visit.teeth) };
  const now = edit;
  const home = { screen: "visit", visit: visit.id } as const;
  const locked = visit.signed !== null || app.server?.readOnly !== null;
  const save = async (): Promise<void> => {
    const body = { label: now.label, procedure: now.procedure, clinician: now.clinician, supervisor: now.supervisor, numbering: now.numbering, teeth: [...now.teeth].sort((a, b) => a - b) };
    if (await app.change("POST", `/api/visits/${visit.id}/details`, body)) {
      edit = null;
      go(home);
    }
  };
  const field = (id: "label" | "procedure" | "clinician" | "supervisor", words: string, hint: string): HTMLElement =>
    h("p", { class: "field" }, h("label", { for: id }, words), h("small", { id: `${id}-hint` }, hint), h("input", { id, type: "text", maxlength: 80, autocomplete: "off", value: now[id], disabled: locked, "aria-describedby": `${id}-hint`, "data-key": id, oninput: (event: Event) => (now[id] = (event.target as HTMLInputElement).value) }));
  const row = (teeth: readonly number[], words: string): HTMLElement =>
    h(
      "div",
      { class: "tooth-row", role: "group", "aria-label": words },
      ...teeth.map((iso, at) =>
        h("button", { type: "button", class: `tooth${at === 8 ? " midline" : ""}`, "data-key": `tooth-${iso}`, disabled: locked, "aria-pressed": now.teeth.has(iso) ? "true" : "false", onclick: () => (now.teeth.has(iso) ? now.teeth.delete(iso) : now.teeth.add(iso), app.redraw()) }, h("span", { class: "number" }, shownNumber(iso, now.numbering)), h("span", { class: "count" }, now.teeth.has(iso) ? "■" : "")),
      ),
    );
  const numberings = { iso: "ISO (11 to 48)", universal: "Universal (1 to 32)" } as const;
  return {
    title: "Details",
    back: home,
    body: [
      field("label", "Chart label", "A label from your own chart. No name of a patient."),
      h("h2", {}, "Treated teeth"),
      h("div", { class: "sides", "aria-hidden": "true" }, h("span", {}, "Patient's right"), h("span", {}, "Patient's left")),
      row(upperRow, "Upper teeth"),
      row(lowerRow, "Lower teeth"),
      h(
        "fieldset",
        { class: "choices" },
        h("legend", {}, "Tooth numbers"),
        ...(Object.keys(numberings) as Numbering[]).map((value) => h("label", { class: "choice" }, h("input", { type: "radio", name: "numbering", value, disabled: locked, "data-key": `numbering-${value}`, checked: now.numbering === value, onchange: () => ((now.numbering = value), app.redraw()) }), numberings[value])),
      ),
      field("procedure", "What is done", "Such as: composite, occlusal."),
      field("clinician", "Who works", "Initials or a staff label."),
      field("supervisor", "Who supervises", "Initials or a staff label."),
      h("div", { class: "actions" }, h("button", { type: "button", class: "primary", "data-main": true, "data-key": "save", disabled: locked, onclick: () => void save() }, "Keep")),
    ],
  };
}
