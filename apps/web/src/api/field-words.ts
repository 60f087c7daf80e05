import * as z from 'zod';
import { ApiProblem } from './problem.js';

const fieldFaults = z.object({ fields: z.array(z.object({ path: z.string(), words: z.string() })) });

/** What the server says is wrong with one field of a form; null when it says nothing about it. */
export function fieldWords(error: unknown, path: string): string | null {
  if (!(error instanceof ApiProblem)) return null;
  const faults = fieldFaults.safeParse(error.values);
  if (!faults.success) return null;
  return faults.data.fields.find((fault) => fault.path === path)?.words ?? null;
}
