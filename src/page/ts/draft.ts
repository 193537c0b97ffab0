// A chart while it is edited: each touch can be taken back, a reload loses nothing, and leaving the screen keeps it.
import type { App } from "./app";

export const changedElsewhere = "Changed in another window meanwhile: what was kept there is shown. “Undo last touch” brings back what you had.";

export class Draft<T> {
  private readonly history: T[] = [];
  private constructor(
    private readonly key: string,
    private readonly kept: string,
    public value: T,
    private readonly write: (value: T) => string,
  ) {}

  /** Goes on with what a reload left behind, if that was begun from the same kept chart. */
  static open<T>(key: string, start: T, write: (value: T) => string, read: (text: string) => T): Draft<T> {
    const kept = write(start);
    let value = start;
    try {
      const left = JSON.parse(sessionStorage.getItem(key) ?? "null") as { from: string; json: string } | null;
      if (left?.from === kept) value = read(left.json);
    } catch {
      sessionStorage.removeItem(key);
    }
    return new Draft(key, kept, value, write);
  }

  /**
   * The same chart after somebody kept another one meanwhile, in another window: theirs is shown, and stepping back
   * brings what was touched here. Null when nothing was touched here, or both say the same.
   */
  displacedBy(start: T): Draft<T> | null {
    const kept = this.write(start);
    if (!this.changed || kept === this.kept || kept === this.write(this.value)) return null;
    const next = new Draft(this.key, kept, start, this.write);
    next.history.push(this.value);
    return next;
  }

  get changed(): boolean {
    return this.write(this.value) !== this.kept;
  }
  get canStepBack(): boolean {
    return this.history.length > 0;
  }
  set(value: T, json: string): void {
    this.history.push(this.value);
    this.value = value;
    this.remember(json);
  }
  stepBack(json: (value: T) => string): void {
    const before = this.history.pop();
    if (before === undefined) return;
    this.value = before;
    this.remember(json(before));
  }
  forget(): void {
    sessionStorage.removeItem(this.key);
  }
  private remember(json: string): void {
    sessionStorage.setItem(this.key, JSON.stringify({ from: this.kept, json }));
  }

  /** Sends the chart when it changed. An empty one takes the kept one back. */
  async keep(app: App, path: string, said: string): Promise<void> {
    if (!this.changed) return this.forget();
    if (await app.change("PUT", path, { chart: this.write(this.value) }, said)) this.forget();
  }
}
