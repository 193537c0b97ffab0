// A press takes a moment: a finger or a pedal goes down, and comes up again. Whoever draws the page anew in between
// takes the pressed target away, and the touch is lost.

/** Draws at once, or as soon as nothing is pressed. `longest` in ms: a release that is never seen must not stop the page. */
export function betweenPresses(draw: () => void, longest = 1000): { draw: () => void; press: () => void; release: () => void } {
  let pressed = false;
  let waiting = false;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const catchUp = (): void => {
    if (pressed || !waiting) return;
    waiting = false;
    draw();
  };
  const release = (): void => {
    clearTimeout(timer);
    if (!pressed) return;
    pressed = false;
    setTimeout(catchUp); // the click comes after the release
  };
  return {
    draw: () => {
      waiting = pressed;
      if (!pressed) draw();
    },
    press: () => {
      pressed = true;
      clearTimeout(timer);
      timer = setTimeout(release, longest);
    },
    release,
  };
}

const target = "button, a, label, summary, input, select";

/** Tells the presses of a document: by pointer, and by the space bar, which acts when it comes up. */
export function watchPresses(document: Document, presses: { press: () => void; release: () => void }): void {
  const on = (event: Event): boolean => event.target instanceof Element && event.target.closest(target) !== null;
  document.addEventListener("pointerdown", (event) => on(event) && presses.press(), true);
  document.addEventListener("keydown", (event) => event.key === " " && on(event) && presses.press(), true);
  document.addEventListener("keyup", (event) => event.key === " " && presses.release(), true); // another key leaves a finger down
  for (const name of ["pointerup", "pointercancel", "dragend"]) document.addEventListener(name, presses.release, true);
}
