// Where the places of a tooth stand on its pad, seen as the teeth stand on the screen.

export interface PadCell {
  readonly column: number; // 1 to 5 from the left of the screen
  readonly row: number; // 1 to 3 from the top
}

// Column counts from the mesial end (1) to the distal end (5), row from the cheek or lip (1) to the tongue or palate (3).
const cells: Record<string, readonly [number, number]> = {
  MB: [2, 1],
  B: [3, 1],
  DB: [4, 1],
  D: [5, 1],
  C: [3, 1],
  E: [3, 1],
  MMR: [1, 2],
  MF: [2, 2],
  CF: [3, 2],
  DF: [4, 2],
  DMR: [5, 2],
  ML: [2, 3],
  MP: [2, 3],
  L: [3, 3],
  P: [3, 3],
  LF: [3, 3],
  PF: [3, 3],
  DL: [4, 3],
  DP: [4, 3],
};

/**
 * On the screen the midline is in the middle: mesial points right for the patient's right teeth (left half) and left for
 * the others. The cheek side is up for upper teeth and down for lower ones. Unknown codes come into the middle.
 */
export function padCell(code: string, iso: number): PadCell {
  const [along, across] = cells[code] ?? [3, 2];
  const quadrant = Math.floor(iso / 10);
  const rightSide = quadrant === 1 || quadrant === 4;
  const upper = quadrant <= 2;
  return { column: rightSide ? 6 - along : along, row: upper ? across : 4 - across };
}

/** "MB/in" is the incline "in" of the spot "MB". */
export const spotOf = (place: string): string => place.split("/")[0] ?? place;
