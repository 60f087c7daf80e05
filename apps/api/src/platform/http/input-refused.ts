import { RefusalError } from '../refusal.js';

interface Issue {
  readonly message: string;
  readonly path?: readonly (PropertyKey | { readonly key: PropertyKey })[] | undefined;
}

const fieldsMax = 20;

/** What a schema found wrong, said field by field. */
export function inputRefused(issues: readonly Issue[]): RefusalError {
  const fields = issues.slice(0, fieldsMax).map((issue) => ({ path: pathOf(issue), words: issue.message }));
  const first = fields[0];
  return new RefusalError({
    status: 422,
    code: 'bad-input',
    title: 'That cannot be taken',
    detail: first ? (first.path ? `${first.path}: ${first.words}` : first.words) : 'Something in it is not as expected.',
    values: { fields },
  });
}

function pathOf(issue: Issue): string {
  return (issue.path ?? []).map((step) => String(typeof step === 'object' ? step.key : step)).join('.');
}
