// The bite that is set at the bench, and the address under which the server makes it.

export type Pickup = "forehead" | "left" | "right" | "both";
export type Room = "silent" | "quiet" | "busy";

export interface BenchBite {
  readonly tooth: number; // ISO 3950
  readonly out: boolean; // out of contact, instead of high
  readonly height: number; // micrometres
  readonly slide: number; // micrometres, 0: none
  readonly side: "left" | "right";
  readonly sideHeight: number; // micrometres, 0: level
  readonly speed: number; // mm/s
  readonly pickup: Pickup;
  readonly room: Room;
}

export interface Listening {
  readonly slow: number; // so many times as long
  readonly keepPitch: boolean;
}

export const balancedBite: BenchBite = { tooth: 16, out: false, height: 0, slide: 0, side: "right", sideHeight: 0, speed: 50, pickup: "forehead", room: "quiet" };

const depth = 100; // micrometres that a tooth out of contact is out

/** The query of this bite; what is as in a balanced bite is left out where it can be. */
export function benchQuery(bite: BenchBite, numbering: string): string {
  const query = new URLSearchParams({ tooth: String(bite.tooth), speed: String(bite.speed), pickup: bite.pickup, room: bite.room, numbering });
  if (bite.out) query.set("height", String(-depth));
  else if (bite.height > 0) query.set("height", String(bite.height));
  if (bite.slide > 0) query.set("slide", String(bite.slide));
  if (bite.sideHeight > 0) {
    query.set("side", bite.side);
    query.set("side_height", String(bite.sideHeight));
  }
  return query.toString();
}

/** Where the browser gets the sound of the bite, or of the balanced one beside it. */
export function benchSound(query: string, listening: Listening, balanced: boolean): string {
  const slow = listening.slow > 1 ? `&slow=${listening.slow}${listening.keepPitch ? "&keep_pitch=1" : ""}` : "";
  return `/api/learn/bench/sound?${query}${slow}${balanced ? "&balanced=1" : ""}`;
}
