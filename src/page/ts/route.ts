// Screens have addresses behind the #, so that the browser's own back, forward and reload work.

export type Route =
  | { readonly screen: "visits" }
  | { readonly screen: "visit"; readonly visit: string }
  | { readonly screen: "film" | "marks" | "record" | "compare" | "take"; readonly visit: string; readonly look: string }
  | { readonly screen: "details" | "sign"; readonly visit: string };

export function parseRoute(hash: string): Route {
  const [first, visit, screen, look] = hash.replace(/^#\/?/, "").split("/").map(decodeURIComponent);
  if (first !== "visit" || !visit) return { screen: "visits" };
  if (screen === "details" || screen === "sign") return { screen, visit };
  if ((screen === "film" || screen === "marks" || screen === "record" || screen === "compare" || screen === "take") && look) {
    return { screen, visit, look };
  }
  return { screen: "visit", visit };
}

export function formatRoute(route: Route): string {
  if (route.screen === "visits") return "#/";
  const parts = ["visit", route.visit];
  if (route.screen !== "visit") parts.push(route.screen);
  if ("look" in route) parts.push(route.look);
  return `#/${parts.map(encodeURIComponent).join("/")}`;
}

export const go = (route: Route): void => {
  location.hash = formatRoute(route);
};
