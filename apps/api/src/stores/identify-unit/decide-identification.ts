import { done, type Result, refused } from '../../platform/refusal.js';

export interface IdentificationFacts {
  /** what the unit was said to be before; null where nobody had said */
  before: { id: string; name: string } | null;
  /** what it is said to be now; null where nobody knows after all */
  now: { id: string; name: string } | null;
  /** sentences of what was read that rule it out; empty where nothing does */
  contradictions: readonly string[];
  why: string;
}

/** What was read may be wrong, and so may who said it before: either way a person may say so, with a reason that stays. */
export function decideIdentification({ before, now, contradictions, why }: IdentificationFacts): Result<null> {
  if (now === null && before === null)
    return refused({
      status: 409,
      code: 'not-identified',
      title: 'Not identified',
      detail: 'Nobody has said what this unit is, so there is nothing to take back. Nothing was changed.',
    });
  if (why !== '') return done(null);
  if (now === null)
    return refused({
      status: 409,
      code: 'needs-reason',
      title: 'Say why',
      detail: `It was said to be ${before?.name}. Say why it is not, so that nobody says it again. Nothing was changed.`,
    });
  if (contradictions.length > 0)
    return refused({
      status: 409,
      code: 'contradicted',
      title: 'What was read contradicts it',
      detail: `${contradictions.join(' ')} Look again; if it is ${now.name} all the same, say why. Nothing was changed.`,
      values: { contradictions },
    });
  if (before !== null && before.id !== now.id)
    return refused({
      status: 409,
      code: 'needs-reason',
      title: 'Say why',
      detail: `It was said to be ${before.name} before. Say why it is ${now.name}. Nothing was changed.`,
    });
  return done(null);
}
