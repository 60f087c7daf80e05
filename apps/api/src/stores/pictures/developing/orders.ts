import type { Result } from '../../../platform/refusal.js';
import type { Developed } from './develop.js';

/** What the server asks of the process that develops. */
export interface DevelopOrder {
  number: number;
  source: string;
  /** what the source must be, in hexadecimal */
  sha256: string;
  into: string;
}

/** What it answers: a verdict on the picture, or the trouble that it had with the disk. */
export type DevelopAnswer =
  | { number: number; result: Result<Developed> }
  | { number: number; trouble: { code: string | null; message: string } };
