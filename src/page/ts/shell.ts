// What surrounds every screen: the bar on top, banners, and the display settings.
import type { App } from "./app";
import { h } from "./dom";
import { formatRoute, go, type Route } from "./route";

export interface Screen {
  readonly title: string;
  readonly back: Route | null;
  readonly body: readonly (HTMLElement | string)[];
  readonly extra?: readonly HTMLElement[];
}

const undoScreens: ReadonlySet<Route["screen"]> = new Set(["visit", "record", "take"]);

export function header(app: App, screen: Screen): HTMLElement {
  const back = screen.back;
  // On a screen that takes back its own touches, a second undo beside it would take back something else: the take.
  const undo = undoScreens.has(app.route.screen) ? (app.visit?.undo ?? null) : null;
  return h(
    "header",
    { class: "bar" },
    back && h("a", { class: "button back", href: formatRoute(back), "data-back": true, "data-key": "back" }, "‹ Back"),
    h("h1", { tabindex: -1 }, screen.title),
    ...(screen.extra ?? []),
    undo &&
      h(
        "button",
        { type: "button", "data-key": "undo", class: "undo", onclick: () => void app.change("POST", `/api/visits/${app.visit?.id ?? ""}/undo`, {}, `Taken back: ${undo}.`) },
        h("span", {}, "Undo"),
        h("small", {}, undo),
      ),
    h("button", { type: "button", "data-key": "display", onclick: openDisplay, "aria-haspopup": "dialog" }, "Display"),
  );
}

export function banners(app: App): HTMLElement {
  const listening = app.live && app.route.screen !== "record" ? app.live : null;
  const box = h("div", { class: "banners", role: "status" });
  if (app.gone === "no answer") {
    box.append(banner("stopped", "Retap does not answer.", "Start it again on this computer. Everything that was kept is safe; this page goes on by itself."));
  } else if (app.gone === "restarted") {
    box.append(banner("stopped", "Retap was started anew.", "Open the new address that it shows. Everything that was kept is safe."));
  }
  if (app.server?.readOnly) box.append(banner("stopped", "Nothing can be kept now.", app.server.readOnly));
  if (listening) {
    const link = h("button", { type: "button", onclick: () => go({ screen: "record", visit: listening.visit, look: listening.look }) }, "Show");
    const shown = banner("listening", "Listening.", "A take is being recorded.");
    shown.append(link);
    box.append(shown);
  }
  if (app.notice) box.append(banner(app.notice.kind, app.notice.kind === "failed" ? "That did not work." : "", app.notice.text));
  return box;
}

const banner = (kind: string, title: string, text: string): HTMLElement =>
  h("p", { class: `banner banner-${kind}` }, title !== "" && h("strong", {}, title, " "), text);

// Display settings stay in this browser.
const themes = { system: "As the device", light: "Light", dark: "Dark" } as const;
const sizes = { "100": "Normal text", "125": "Large text", "150": "Larger text", "200": "Largest text" } as const;

export const kept = (name: string, fallback: string): string => {
  try {
    return localStorage.getItem(name) ?? fallback;
  } catch {
    return fallback; // storage may be forbidden; the page works without it
  }
};

export function keep(name: string, value: string): void {
  try {
    localStorage.setItem(name, value);
  } catch {
    // Then it holds until the page is closed, in whatever the caller keeps.
  }
}

export function applyDisplay(): void {
  const theme = kept("theme", "system");
  if (theme === "light" || theme === "dark") document.documentElement.dataset["theme"] = theme;
  else delete document.documentElement.dataset["theme"];
  document.documentElement.dataset["text"] = kept("text", "100");
}

const openDisplay = (): void => document.querySelector<HTMLDialogElement>("#display")?.showModal();

export function displayDialog(): HTMLElement {
  const choices = (name: string, options: Record<string, string>, fallback: string): HTMLElement =>
    h(
      "fieldset",
      { class: "choices" },
      h("legend", {}, name === "theme" ? "Colours" : "Text"),
      ...Object.entries(options).map(([value, text]) =>
        h(
          "label",
          { class: "choice" },
          h("input", {
            type: "radio",
            name,
            value,
            checked: kept(name, fallback) === value,
            onchange: () => {
              try {
                localStorage.setItem(name, value);
              } catch {
                document.documentElement.dataset[name] = value;
                return;
              }
              applyDisplay();
            },
          }),
          text,
        ),
      ),
    );
  const dialog = h("dialog", { id: "display", "aria-label": "Display" }, h("h2", {}, "Display"), choices("theme", themes, "system"), choices("text", sizes, "100"));
  dialog.append(h("button", { type: "button", onclick: () => dialog.close() }, "Done"));
  return dialog;
}
