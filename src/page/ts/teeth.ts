// Teeth and film results on the page: numbering, order on screen, what one touch does, and the notation the server reads.
import type { Film, Numbering, Pair } from "./model";

/** ISO numbers as they stand on the screen, the patient's right on the left. */
export const upperRow: readonly number[] = [18, 17, 16, 15, 14, 13, 12, 11, 21, 22, 23, 24, 25, 26, 27, 28];
export const lowerRow: readonly number[] = [48, 47, 46, 45, 44, 43, 42, 41, 31, 32, 33, 34, 35, 36, 37, 38];

/** The Universal number of an ISO tooth: 1 to 16 along the upper row from the patient's right, 17 to 32 back along the lower. */
export function universalNumber(iso: number): number {
  const place = iso % 10;
  switch (Math.floor(iso / 10)) {
    case 1:
      return 9 - place;
    case 2:
      return 8 + place;
    case 3:
      return 25 - place;
    default:
      return 24 + place;
  }
}

export const shownNumber = (iso: number, numbering: Numbering): string =>
  String(numbering === "iso" ? iso : universalNumber(iso));

/** What one touch makes of a pair: hold, slide, open, not tested, and round again. */
export function afterTouch(film: Film | null): Film | null {
  const next: Record<Film, Film | null> = { hold: "slide", slide: "open", open: null };
  return film === null ? "hold" : next[film];
}

/** A film chart while it is edited, by upper tooth of the pair (ISO) and lower tooth. */
export type FilmChart = ReadonlyMap<string, Film>;
export const pairKey = (upper: number, lower: number): string => `${upper}/${lower}`;

export function filmChart(pairs: readonly Pair[]): FilmChart {
  return new Map(pairs.map((pair) => [pairKey(pair.upper, pair.lower), pair.film]));
}

export function withFilm(chart: FilmChart, key: string, film: Film | null): FilmChart {
  const changed = new Map(chart);
  if (film === null) changed.delete(key);
  else changed.set(key, film);
  return changed;
}

/** "iso: hold 16/46 17/47; slide 26/36", which is what the server reads; empty without results. */
export function filmNotation(chart: FilmChart): string {
  const groups = (["hold", "slide", "open"] as const).map((film) => {
    const keys = [...chart].filter(([, result]) => result === film).map(([key]) => key);
    return keys.length === 0 ? "" : `${film} ${keys.sort().join(" ")}`;
  });
  const text = groups.filter((group) => group !== "").join("; ");
  return text === "" ? "" : `iso: ${text}`;
}

/** Pairs in the chart that the sixteen buttons do not show, because somebody typed them. */
export function unusualPairs(chart: FilmChart): readonly string[] {
  const usual = new Set(upperRow.map((upper, column) => pairKey(upper, lowerRow[column] ?? 0)));
  return [...chart.keys()].filter((key) => !usual.has(key)).sort();
}

/** Where an arrow key leads in a row of `size`; Home and End to its ends. Null for other keys. */
export function stepInRow(key: string, at: number, size: number): number | null {
  switch (key) {
    case "ArrowLeft":
      return Math.max(0, at - 1);
    case "ArrowRight":
      return Math.min(size - 1, at + 1);
    case "Home":
      return 0;
    case "End":
      return size - 1;
    default:
      return null;
  }
}
