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

/** What one touch makes of a pair: hold, slide, open, cannot be tested, nothing said, and round again. */
export function afterTouch(film: Film | null): Film | null {
  const next: Record<Film, Film | null> = { hold: "slide", slide: "open", open: "untestable", untestable: null };
  return film === null ? "hold" : next[film];
}

export const films: readonly Film[] = ["hold", "slide", "open", "untestable"];

/** Results of film by upper tooth of the pair (ISO) and lower tooth. */
export type FilmResults = ReadonlyMap<string, Film>;
export const pairKey = (upper: number, lower: number): string => `${upper}/${lower}`;
export const usualPairs: readonly string[] = upperRow.map((upper, column) => pairKey(upper, lowerRow[column] ?? 0));

/** A film chart while it is edited, with the pairs that were said by hand. */
export interface FilmChart {
  readonly results: FilmResults;
  readonly touched: ReadonlySet<string>;
}

export const filmResults = (pairs: readonly Pair[]): FilmResults => new Map(pairs.map((pair) => [pairKey(pair.upper, pair.lower), pair.film]));
export const filmChart = (pairs: readonly Pair[]): FilmChart => ({ results: filmResults(pairs), touched: new Set() });

export function withFilm(chart: FilmChart, key: string, film: Film | null): FilmChart {
  const results = new Map(chart.results);
  if (film === null) results.delete(key);
  else results.set(key, film);
  return { results, touched: new Set([...chart.touched, key]) };
}

/** Every pair that was not touched and has no result is as it was before the work. */
export function restOfFilmAsBefore(chart: FilmChart, before: FilmResults): FilmChart {
  const rest = [...before].filter(([key]) => !chart.touched.has(key) && !chart.results.has(key));
  return { ...chart, results: new Map([...chart.results, ...rest]) };
}

/** Of the sixteen pairs, those of which nothing was said cannot be tested: a tooth is missing, or film cannot be put there. */
export const restUntestable = (chart: FilmChart): FilmChart => ({
  ...chart,
  results: new Map([...chart.results, ...usualPairs.filter((key) => !chart.results.has(key)).map((key) => [key, "untestable"] as const)]),
});

export type FilmDifference = "lost" | "gained" | "changed";

/** How a pair stands to the baseline; null: as before, or one of both was not tested. */
export function filmDifference(now: Film | null, before: Film | null): FilmDifference | null {
  if (now === null || before === null || now === before || now === "untestable" || before === "untestable") return null;
  return before === "hold" ? "lost" : now === "hold" ? "gained" : "changed";
}

/** "iso: hold 16/46 17/47; slide 26/36", which is what the server reads; empty without results. */
export function filmNotation({ results }: FilmChart): string {
  const groups = films.map((film) => {
    const keys = [...results].filter(([, result]) => result === film).map(([key]) => key);
    return keys.length === 0 ? "" : `${film} ${keys.sort().join(" ")}`;
  });
  const text = groups.filter((group) => group !== "").join("; ");
  return text === "" ? "" : `iso: ${text}`;
}

/** Pairs in the chart that the sixteen buttons do not show, because somebody typed them. */
export const unusualPairs = ({ results }: FilmChart): readonly string[] => [...results.keys()].filter((key) => !usualPairs.includes(key)).sort();

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
