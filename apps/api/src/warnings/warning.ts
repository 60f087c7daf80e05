import type { WarningKind } from '@corewright/contracts/warnings';

/** A reason to warn somebody, as it stands now. */
export interface Cause {
  kind: WarningKind;
  /** the same as long as the cause stays the same */
  subjectKey: string;
  jobId: string;
  lineId: string | null;
  otherJobId: string | null;
  words: string;
  why: string;
  /** what the watch needs to know next time */
  facts: Record<string, unknown>;
  /**
   * `stands`: to be told, if nobody was; `arose`: it has come about now, so that it is told even where somebody settled it before;
   * `known`: it was so when the workshop was first looked at, or was told: it only keeps alive what was raised
   */
  since: 'stands' | 'arose' | 'known';
}

/** A warning whose cause was there when last looked at; settled by somebody, or open. */
export interface LiveWarning {
  id: string;
  kind: WarningKind;
  subjectKey: string;
  jobId: string;
  lineId: string | null;
  otherJobId: string | null;
  words: string;
  why: string;
  facts: Record<string, unknown>;
  isOpen: boolean;
}

export interface Reconciled {
  raise: Cause[];
  reword: { id: string; words: string; why: string; facts: Record<string, unknown>; jobIds: string[] }[];
  end: { warning: LiveWarning; words: string }[];
}

export interface Judgement {
  /** whether the look went so far as to tell that the cause of a warning is gone */
  sees(warning: LiveWarning): boolean;
  /** how a warning ended whose cause is not there */
  gone(warning: LiveWarning): string;
}

/** What is to be raised, told in other words and settled, so that each cause has one warning. */
export function reconcile(live: readonly LiveWarning[], causes: readonly Cause[], judgement: Judgement): Reconciled {
  const known = new Map(live.map((warning) => [warning.subjectKey, warning]));
  const there = new Set(causes.map(({ subjectKey }) => subjectKey));
  const made: Reconciled = { raise: [], reword: [], end: [] };
  for (const warning of live)
    if (!there.has(warning.subjectKey) && judgement.sees(warning)) made.end.push({ warning, words: judgement.gone(warning) });
  for (const cause of causes) {
    const warning = known.get(cause.subjectKey);
    if (warning === undefined) {
      if (cause.since !== 'known') made.raise.push(cause);
    } else if (!warning.isOpen) {
      if (cause.since !== 'arose') continue;
      made.end.push({ warning, words: '' });
      made.raise.push(cause);
    } else {
      const why = cause.since === 'known' && cause.why === '' ? warning.why : cause.why;
      if (cause.words === warning.words && why === warning.why) continue;
      made.reword.push({ id: warning.id, words: cause.words, why, facts: cause.facts, jobIds: jobsOf(warning) });
    }
  }
  return made;
}

export function jobsOf({ jobId, otherJobId }: Pick<Cause, 'jobId' | 'otherJobId'>): string[] {
  return otherJobId === null ? [jobId] : [jobId, otherJobId];
}
