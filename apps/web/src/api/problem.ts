import * as z from 'zod';

/** What the server says when it refuses (RFC 9457), and what we say in its place when no answer came. */
export class ApiProblem extends Error {
  override name = 'ApiProblem';
  constructor(
    /** HTTP status; 0 when no answer came at all */
    readonly status: number,
    /** a stable word for programs, for instance `not-on-this-job` */
    readonly code: string,
    readonly title: string,
    /** what happened and what to do next, in words for a person */
    readonly detail: string,
    /** the values that were refused, and whatever the code promises */
    readonly values: Readonly<Record<string, unknown>>,
    readonly correlationId: string | null,
  ) {
    super(detail === '' ? title : `${title}. ${detail}`);
  }
}

const problemDocument = z.looseObject({
  type: z.string().optional(),
  title: z.string().optional(),
  detail: z.string().optional(),
  code: z.string().optional(),
  values: z.record(z.string(), z.unknown()).optional(),
  correlationId: z.string().optional(),
});

/** The code is the document's own, else the last step of its `type`. */
function codeOf(document: { code?: string | undefined; type?: string | undefined }): string {
  return document.code ?? document.type?.split(/[/:]/).at(-1) ?? 'unknown';
}

/** Reads a refusal's body. Whatever is not a problem document still becomes a sentence that a person can act on. */
export function problemFrom(status: number, body: unknown): ApiProblem {
  const parsed = problemDocument.safeParse(body);
  if (!parsed.success) return bareProblem(status);
  const { title, detail, values, correlationId } = parsed.data;
  if (title === undefined && detail === undefined) return bareProblem(status);
  return new ApiProblem(status, codeOf(parsed.data), title ?? 'Refused', detail ?? '', values ?? {}, correlationId ?? null);
}

function bareProblem(status: number): ApiProblem {
  if (status >= 500) {
    return new ApiProblem(
      status,
      'server-trouble',
      'The server is in trouble',
      'What you keyed is kept here. Try again in a moment.',
      {},
      null,
    );
  }
  return new ApiProblem(status, 'refused', 'Refused', `The server answered ${status} and gave no reason.`, {}, null);
}

/** No answer: the network, or the server, is away. Whether a write arrived is not known. */
export function noAnswer(): ApiProblem {
  return new ApiProblem(
    0,
    'no-answer',
    'No answer from the server',
    'What you keyed is kept here. Look whether the network is up, then try again.',
    {},
    null,
  );
}

/** The answer came but is not what the contract says: the page is older or newer than the server. */
export function oddAnswer(path: string): ApiProblem {
  return new ApiProblem(
    0,
    'odd-answer',
    'The answer cannot be read',
    `Load the page anew: it may be older than the server (${path}).`,
    {},
    null,
  );
}

const shownVersion = z.looseObject({ version: z.int() });

/** The version that is overwritten with the next try: the newer one that a refusal has shown, else the one that was seen before. */
export function versionShownBy(thrown: unknown, seenBefore: number): number {
  const shown = shownVersion.safeParse(asProblem(thrown).values.current);
  return shown.success ? shown.data.version : seenBefore;
}

/** A problem to show, whatever was thrown. */
export function asProblem(thrown: unknown): ApiProblem {
  if (thrown instanceof ApiProblem) return thrown;
  const words = thrown instanceof Error ? thrown.message : String(thrown);
  return new ApiProblem(0, 'page-fault', 'The page went wrong', `Load it anew. What it said: ${words}`, {}, null);
}
