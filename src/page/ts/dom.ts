// Builds elements. Text is always text; markup from the server goes through one function of its own.

type Child = Node | string | null | undefined | false;
type Attributes = Record<string, string | number | boolean | null | undefined | ((event: never) => void)>;

/** An element with attributes (true: bare, false or null: none, function: listener for the name after "on"). */
export function h<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") {
      element.addEventListener(name.slice(2), value as (event: Event) => void);
    } else if (value !== null && value !== undefined && value !== false) {
      element.setAttribute(name, value === true ? "" : String(value));
    }
  }
  element.append(...children.filter((child): child is Node | string => child !== null && child !== undefined && child !== false));
  return element;
}

/** Puts markup made by the server's report layer (which escapes every text) into a container. */
export function inject(container: HTMLElement, markup: string): void {
  container.innerHTML = markup;
}

/** The element that the pedal means: only the record screen has one. */
export const pedalTarget = (): HTMLElement | null => document.querySelector<HTMLElement>("[data-pedal]:not(:disabled)");

/** Replaces the children of `root`, keeping focus on the element of the same data-key, or else on the pedal's target or the heading. */
export function render(root: HTMLElement, ...children: readonly Child[]): void {
  const active = document.activeElement;
  const inside = active instanceof HTMLElement && root.contains(active);
  const key = inside ? active.dataset["key"] : undefined;
  root.replaceChildren(...children.filter((child): child is Node | string => child !== null && child !== undefined && child !== false));
  if (!inside) return;
  const again = key === undefined ? null : root.querySelector<HTMLElement>(`[data-key="${CSS.escape(key)}"]`);
  (again ?? pedalTarget() ?? root.querySelector<HTMLElement>("h1"))?.focus({ preventScroll: true });
}
