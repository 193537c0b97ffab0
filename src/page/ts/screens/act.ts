// Does what a button, or a line of the checklist, speaks of.
import { send } from "../api";
import type { App } from "../app";
import type { Visit } from "../model";
import type { Action } from "../next_step";
import { go } from "../route";
import { record } from "./look_row";

const kindOf = (look: string): string => look.replace(/\d+$/, "");

/** The look is there when this has passed: what the rules speak of is perhaps not begun yet. */
async function begun(app: App, visit: Visit, look: string): Promise<boolean> {
  return visit.looks.some((one) => one.id === look) || app.change("POST", `/api/visits/${visit.id}/looks`, { kind: kindOf(look) });
}

export async function beginLook(app: App, visit: Visit, kind: "after" | "recheck", thenRecord: boolean): Promise<void> {
  const done = await app.change("POST", `/api/visits/${visit.id}/looks`, { kind });
  const look = app.visit?.looks.at(-1);
  if (done && thenRecord && look) await record(app, visit.id, look.id);
}

/** Opens the visit of another day, which goes on with the baseline of this one. */
export async function followUp(app: App, visit: string): Promise<void> {
  await app.guard(async () => {
    const next = await send<Visit>("POST", "/api/visits", { follows: visit });
    go({ screen: "visit", visit: next.id });
  });
  app.redraw();
}

export async function act(app: App, visit: Visit, { target }: Action): Promise<void> {
  switch (target.to) {
    case "film":
      if (await begun(app, visit, target.look)) go({ screen: "film", visit: visit.id, look: target.look });
      return;
    case "marks":
      if (await begun(app, visit, target.look)) go({ screen: "marks", visit: visit.id, look: target.look, stage: target.stage, ...(target.tooth && { tooth: target.tooth }) });
      return;
    case "record":
      if (await begun(app, visit, target.look)) await record(app, visit.id, target.look);
      return;
    case "compare":
      return go({ screen: "compare", visit: visit.id, look: target.look });
    case "begin":
      return beginLook(app, visit, target.kind, target.record);
    case "follow-up":
      return followUp(app, visit.id);
    case "patient":
    case "decision":
      app.wanted = target.to;
      if (app.route.screen === "visit") app.redraw();
      else go({ screen: "visit", visit: visit.id });
      return;
    case "warning":
    case "crossbite":
    case "sign":
      return go({ screen: target.to, visit: visit.id });
  }
}
