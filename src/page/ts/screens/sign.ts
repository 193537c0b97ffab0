// Sign-off by the supervisor closes the visit.
import type { App } from "../app";
import { h } from "../dom";
import { go } from "../route";
import type { Screen } from "../shell";

const filled = { name: "", role: "", comment: "" };

export function signScreen(app: App): Screen {
  const visit = app.visit;
  if (!visit) return { title: "Sign off", back: { screen: "visits" }, body: [] };
  const home = { screen: "visit", visit: visit.id } as const;
  const sign = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    if (await app.change("POST", `/api/visits/${visit.id}/sign`, { ...filled }, "Signed. The visit is closed.")) {
      Object.assign(filled, { name: "", role: "", comment: "" });
      go(home);
    }
  };
  const field = (id: "name" | "role", words: string, required: boolean): HTMLElement =>
    h("p", { class: "field" }, h("label", { for: id }, words), h("input", { id, type: "text", maxlength: 80, required, autocomplete: "off", value: filled[id], "data-key": id, oninput: (event: Event) => (filled[id] = (event.target as HTMLInputElement).value) }));
  return {
    title: "Sign off",
    back: home,
    body: [
      h(
        "form",
        { class: "sign-form", onsubmit: (event: SubmitEvent) => void sign(event) },
        h("p", {}, "Signing closes the visit: it can be read and exported, not changed. Whoever signs has looked at film, marks and sound, and decides."),
        field("name", "Name or staff label", true),
        field("role", "Role, such as supervisor", false),
        h("p", { class: "field" }, h("label", { for: "comment" }, "Comment"), h("textarea", { id: "comment", rows: 3, maxlength: 500, "data-key": "comment", oninput: (event: Event) => (filled.comment = (event.target as HTMLTextAreaElement).value) }, filled.comment)),
        h("div", { class: "actions" }, h("button", { type: "submit", class: "primary", "data-key": "sign" }, "Sign and close")),
      ),
    ],
  };
}
