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
 * What the level means for the person holding the pick-up. Advice while listening only: whether a take is fit is
 * decided from all of it afterwards.
 */
export function levelWords(live: Live): LevelWords {
  if (live.taps === 0) return { words: live.seconds < 6 ? "Waiting for the first tap" : "No tap heard yet. Is the pick-up on and touching?", good: live.seconds < 6 };
  if (live.peak > -0.3) return { words: "Too loud: tap more gently or move the pick-up", good: false };
  if (live.noise > -35) return { words: "The room is loud: suction and fans off, if possible", good: false };
  if (live.usable * 2 < live.taps && live.taps >= 4) return { words: "Many taps cannot be used: tap evenly, about twice a second", good: false };
  return { words: "Level good", good: true };
}

/** Left to say before the take is complete. */
export function tapsToGo(live: Live): string {
  const left = Math.max(0, live.wanted - live.usable);
  return left === 0 ? "Enough" : left === 1 ? "1 more" : `${left} more`;
}
