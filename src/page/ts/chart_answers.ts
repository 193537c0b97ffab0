// What a learner charts of a drawn patient, as it grows under the fingers, and as it is sent.
import { markNotation, sheetOf, type MarkSheet } from "./marks";
import { filmChart, filmNotation, type FilmChart } from "./teeth";

export interface ChartSaid {
  readonly film: FilmChart;
  readonly sheets: readonly MarkSheet[]; // one for each drawing, all of them as centric marks
  readonly choices: readonly (number | null)[]; // one for each question
}

export interface ChartAnswers {
  readonly holds: string;
  readonly marks: readonly string[];
  readonly choices: readonly number[];
}

export const nothingSaid = (drawings: number, questions: number): ChartSaid => ({
  film: filmChart([]),
  sheets: Array.from({ length: drawings }, () => sheetOf(null)),
  choices: Array.from({ length: questions }, () => null),
});

/** What is still to be answered before it can be checked, in words; empty when nothing is. */
export function leftToSay(said: ChartSaid): string[] {
  const questions = said.choices.filter((choice) => choice === null).length;
  return [
    ...(said.film.results.size === 0 ? ["the film"] : []),
    ...said.sheets.flatMap((sheet, at) => (sheet.marks.length === 0 ? [`the marks of drawing ${at + 1}`] : [])),
    ...(questions > 0 ? [questions === 1 ? "one question" : `${questions} questions`] : []),
  ];
}

export const answersOf = (said: ChartSaid): ChartAnswers => ({
  holds: filmNotation(said.film),
  marks: said.sheets.map(markNotation),
  choices: said.choices.map((choice) => choice ?? 0),
});

export const withSheet = (said: ChartSaid, at: number, sheet: MarkSheet): ChartSaid => ({ ...said, sheets: said.sheets.map((one, i) => (i === at ? sheet : one)) });
export const withChoice = (said: ChartSaid, at: number, choice: number): ChartSaid => ({ ...said, choices: said.choices.map((one, i) => (i === at ? choice : one)) });
