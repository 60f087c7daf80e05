import { BuildStandard } from '@corewright/contracts/base';
import type { LinesAsked, OwnParts } from '@corewright/contracts/buildable';
import type * as z from 'zod';
import { oneOf } from '../../routes/search.js';
import type { Choice } from '../../ui/SelectField.js';

/** What is asked, as the address keeps it. */
export interface BuildableAsked {
  readonly standard: BuildStandard;
  readonly lines: z.infer<typeof LinesAsked>;
  readonly own: z.infer<typeof OwnParts>;
}

export const LINES: readonly Choice<BuildableAsked['lines']>[] = [
  { value: 'all', label: 'all lines' },
  { value: 'critical', label: 'the critical lines' },
];
export const OWN: readonly Choice<BuildableAsked['own']>[] = [
  { value: 'used again', label: 'out of the core itself' },
  { value: 'replaced', label: 'all of it out of stores' },
];

/** Reads the address; what is none of the choices is as nothing was said. */
export function readBuildableAsked(search: Record<string, unknown>): Partial<BuildableAsked> {
  return {
    ...oneOf(search, 'standard', BuildStandard.options),
    ...oneOf(search, 'lines', ['all', 'critical'] as const),
    ...oneOf(search, 'own', ['used again', 'replaced'] as const),
  };
}

export const usuallyAsked: BuildableAsked = { standard: 'serviceable', lines: 'all', own: 'used again' };
