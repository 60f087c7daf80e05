import * as z from 'zod';

/** A refusal in the form of RFC 9457; `code` is ours and stable, `detail` says in words what to do next. */
export const Problem = z.object({
  type: z.string(),
  title: z.string(),
  status: z.number().int(),
  detail: z.string(),
  code: z.string(),
  correlationId: z.string(),
  values: z.record(z.string(), z.unknown()).optional(),
});
export type Problem = z.infer<typeof Problem>;
