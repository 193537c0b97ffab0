// The live level in words and as a share of the meter.
import type { Live } from "./model";

const lowest = -72; // dBFS shown as nothing

/** 0 to 1 along the meter; silence, -Infinity and what is not a number are 0. */
export const meterShare = (dbfs: number): number =>
  Number.isFinite(dbfs) ? Math.min(1, Math.max(0, (dbfs - lowest) / -lowest)) : 0;

export type Zone = "silent" | "soft" | "good" | "loud";

const nearFull = -1; // dBFS: from here on samples are at full scale
const standsOut = 18; // dB over the room that a tap needs to be measured

/** Where a tap of this level lies, told from the sound itself: too soft to stand out of the room, good, or at full scale. */
export function zoneOf(peak: number, noise: number): Zone {
  if (!Number.isFinite(peak) || peak <= lowest) return "silent";
  if (peak >= nearFull) return "loud";
  return peak < noise + standsOut ? "soft" : "good";
}

export interface LevelWords {
  readonly words: string;
  readonly good: boolean;
}

/** The taps that were heard so far, each with the level at which it landed. */
export interface Landed {
  readonly peak: number; // dBFS
  readonly zone: Zone;
}

/** What is seen of a take while it is recorded: a tap lands when the count goes up, at the level that is heard then. */
export class Landing {
  readonly taps: Landed[] = [];
  private recent: number[] = [];

  see(live: Live): void {
    this.recent = [...this.recent, live.peak].slice(-8); // half a second: a tap is counted a moment after it sounded
    while (this.taps.length < live.usable) {
      const peak = Math.max(...this.recent);
      this.taps.push({ peak, zone: zoneOf(peak, live.noise) });
    }
  }
}

/**
 * One line of help. What the sound of the last taps says comes first, so that words and picture never contradict each
 * other; then the server's advice, then what the count tells.
 */
export function levelWords(live: Live, last: Landed | undefined): LevelWords {
  if (last?.zone === "loud") return { words: "Too loud: turn the level of the pick-up down.", good: false };
  if (last?.zone === "soft") return { words: "Too soft: seat the pick-up more firmly.", good: false };
  if (live.advice !== "" && last === undefined) return { words: live.advice, good: false };
  if (live.taps === 0) return live.seconds < 6 ? { words: "Waiting for the first tap", good: true } : { words: "No tap heard yet. Is the pick-up on and touching?", good: false };
  if (live.usable * 2 < live.taps && live.taps >= 4) return { words: "Many taps cannot be used: tap evenly, about twice a second", good: false };
  if (live.advice !== "") return { words: live.advice, good: false };
  return { words: "Level good", good: true };
}

/** Left to say before the take is complete. */
export function tapsToGo(live: Live): string {
  const left = Math.max(0, live.wanted - live.usable);
  return left === 0 ? "Enough" : left === 1 ? "1 more" : `${left} more`;
}
