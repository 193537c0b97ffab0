// The live level in words and as a share of the meter.
import type { Live } from "./model";

const lowest = -72; // dBFS shown as nothing

/** 0 to 1 along the meter; silence, -Infinity and what is not a number are 0. */
export const meterShare = (dbfs: number): number =>
  Number.isFinite(dbfs) ? Math.min(1, Math.max(0, (dbfs - lowest) / -lowest)) : 0;

export interface LevelWords {
  readonly words: string;
  readonly good: boolean;
}

/**
 * What to say while listening: the server's advice about the sound when it has any, else about the taps. Whether a take
 * is fit is decided from all of it afterwards.
 */
export function levelWords(live: Live): LevelWords {
  if (live.advice !== "") return { words: live.advice, good: false };
  if (live.taps === 0) return live.seconds < 6 ? { words: "Waiting for the first tap", good: true } : { words: "No tap heard yet. Is the pick-up on and touching?", good: false };
  if (live.usable * 2 < live.taps && live.taps >= 4) return { words: "Many taps cannot be used: tap evenly, about twice a second", good: false };
  return { words: "Level good", good: true };
}

/** Left to say before the take is complete. */
export function tapsToGo(live: Live): string {
  const left = Math.max(0, live.wanted - live.usable);
  return left === 0 ? "Enough" : left === 1 ? "1 more" : `${left} more`;
}
