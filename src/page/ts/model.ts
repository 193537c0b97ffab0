// What the server tells, as it tells it. Sentences are made there; the page only shows them.

export type Numbering = "iso" | "universal";
/** untestable: film cannot be put there; it counts as no test. */
export type Film = "hold" | "slide" | "open" | "untestable";
export type Stage = "centric" | "working" | "non-working" | "protrusive";
export type Weight = "light" | "even" | "heavy";
export type LookKind = "before" | "after" | "recheck";
export type Verdict = "alike" | "different" | "unclear";

export type Decision = "adjust" | "leave" | "wait" | "finish" | "other";

export interface Pair {
  readonly upper: number;
  readonly lower: number;
  readonly film: Film;
}

/** After the work a mark on a treated tooth lies on the restoration or beside it; the not said is asked for, never assumed. */
export type Where = "not said" | "restoration" | "beside";

export interface Mark {
  readonly tooth: number;
  readonly place: string; // code, e.g. "MB/in"
  readonly name: string; // "inner incline of the mesiobuccal cusp"
  readonly stage: Stage;
  readonly weight: Weight;
  readonly where: Where;
}

export interface Take {
  readonly id: string;
  readonly usable: boolean;
  readonly sentence: string;
  readonly reasons: readonly string[];
  readonly peaks: readonly number[]; // dBFS of each usable tap, by time
  readonly when: string;
}

export interface Look {
  readonly id: string;
  readonly kind: LookKind;
  readonly title: string;
  readonly when: string;
  readonly film: { readonly pairs: readonly Pair[]; readonly sentence: string } | null;
  readonly marks: { readonly stages: readonly Stage[]; readonly marks: readonly Mark[]; readonly again: boolean; readonly sentence: string } | null;
  readonly takes: readonly Take[];
}

export interface Answer {
  readonly look: string;
  readonly verdict: Verdict;
  readonly sentence: string;
  readonly score: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

export interface Advice {
  readonly id: string;
  readonly when: string;
  readonly suggestion: string;
  readonly why: string;
  readonly defersTo: string;
  readonly evidence: readonly string[];
  readonly step: string; // as in FORMATS.md, such as "chart_holds"
  readonly blocks: "nothing" | "done" | "judgement" | "work";
  readonly marks: readonly { readonly tooth: string; readonly place: string; readonly stage: Stage }[]; // tooth in ISO
}

export interface FirstStep {
  readonly step: string;
  readonly look: string;
  readonly rule: string;
  readonly how_to: readonly { readonly do: string; readonly why: string; readonly source: string }[];
}

export interface Question {
  readonly question: string;
  readonly text: string;
  readonly answers: readonly string[];
  readonly teeth: readonly string[]; // ISO
}

export interface Warning {
  readonly about: string;
  readonly plain: string;
  readonly raisedWith: string;
  readonly decided: string;
}

export interface Visit {
  readonly id: string;
  readonly label: string;
  readonly teeth: readonly number[];
  readonly numbering: Numbering;
  readonly when: string;
  readonly numb: boolean | null;
  readonly feel: string;
  readonly clinician: string;
  readonly procedure: string;
  readonly supervisor: string;
  readonly decision: Decision | null;
  readonly looks: readonly Look[];
  readonly answer: Answer | null;
  readonly changes: readonly string[];
  readonly crossbite: readonly number[] | null; // null: nobody said
  readonly warnings: readonly Warning[];
  readonly next: readonly Advice[];
  readonly firstStep: FirstStep | null;
  readonly questions: readonly Question[];
  readonly contradictions: readonly { readonly contradiction: string; readonly plain: string; readonly look_again: string; readonly step: string }[];
  readonly spread: string;
  readonly undo: string | null; // what the undo button would take back
  readonly earlier: readonly VisitLink[]; // the visit that this one continues, the one that continues, and so on
  readonly later: readonly VisitLink[]; // visits that continue this one
  readonly baselineOfEarlier: boolean; // the baseline was taken over; what is found now is a recheck
  readonly stillOpen: { readonly action: Decision; readonly since: string; readonly by: string; readonly numb: boolean | null; readonly words: string } | null;
  readonly discardable: boolean; // holds nothing of its own: POST /api/visits/ID/discard
  readonly signed: { readonly name: string; readonly role: string; readonly when: string; readonly comment: string; readonly intact: boolean } | null;
}

export interface VisitLink {
  readonly id: string | null; // null: not in this store
  readonly label: string;
  readonly when: string;
  readonly signed: boolean;
}

// POST /api/visits with { "follows": ID } opens a visit that continues that one, with its baseline and open decision.
export interface VisitLine {
  readonly id: string;
  readonly label: string;
  readonly teeth: string;
  readonly day: string;
  readonly time: string;
  readonly state: string;
  readonly verdict: Verdict | null;
  readonly signed: boolean;
  readonly clinician: string;
  readonly supervisor: string;
  readonly procedure: string;
  readonly waiting: { readonly since: string; readonly by: string; readonly numb: boolean | null; readonly due: boolean } | null; // to be rechecked; due from the day after on
  readonly adjusting: boolean; // an adjustment was decided and no look followed yet
  readonly followUp: boolean; // continues an earlier visit
}

// GET /api/cautions: when not to have the patient tap; shown where a recording begins.
export interface Cautions {
  readonly tapping: readonly string[];
}

// GET /api/worklist; a visit can be in more than one list. GET /api/visits?label=TEXT searches by label.
export interface Worklist {
  readonly toRecheck: readonly VisitLine[]; // longest waiting first
  readonly toSign: readonly VisitLine[]; // oldest first
  readonly today: readonly VisitLine[]; // newest first
}

export interface Live {
  readonly visit: string;
  readonly look: string;
  readonly device: string;
  readonly seconds: number;
  readonly usable: number;
  readonly taps: number;
  readonly wanted: number;
  readonly peak: number; // dBFS
  readonly noise: number; // dBFS
  readonly advice: string; // a sentence about the sound; empty when there is nothing to say
}

export interface Devices {
  readonly devices: readonly string[];
  readonly chosen: string;
  readonly trouble: string | null;
}

export interface ServerState {
  readonly program: string;
  readonly numbering: Numbering;
  readonly readOnly: string | null; // why nothing can be kept, or null
  readonly recording: Live | null;
}

/** "" is the place itself, the others its inclines. */
export type Facing = "" | "/in" | "/out" | "/mes" | "/dis";

export interface Spot {
  readonly code: string;
  readonly name: string;
  readonly inclines: boolean;
  readonly at: Readonly<Partial<Record<Facing, readonly [number, number]>>>; // from the midline end to the back, from the cheek to the tongue, 0 to 1
}
