// What the server tells, as it tells it. Sentences are made there; the page only shows them.

export type Numbering = "iso" | "universal";
export type Film = "hold" | "slide" | "open";
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
  readonly suggestion: string;
  readonly why: string;
  readonly defersTo: string;
  readonly evidence: readonly string[];
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
  readonly next: readonly Advice[];
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

export interface Spot {
  readonly code: string;
  readonly name: string;
  readonly inclines: boolean;
}
