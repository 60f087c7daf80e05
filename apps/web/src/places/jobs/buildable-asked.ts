import { BuildStandard } from '@corewright/contracts/base';
import { DonorsAsked, type LinesAsked, type OwnParts } from '@corewright/contracts/buildable';
import type * as z from 'zod';
import { oneOf } from '../../routes/search.js';
import type { Choice } from '../../ui/SelectField.js';

/** What is asked, as the address keeps it. */
export interface BuildableAsked {
  readonly standard: BuildStandard;
  readonly lines: z.infer<typeof LinesAsked>;
  readonly own: z.infer<typeof OwnParts>;
  readonly donors: z.infer<typeof DonorsAsked>;
}

export const LINES: readonly Choice<BuildableAsked['lines']>[] = [
  { value: 'all', label: 'all lines' },
  { value: 'critical', label: 'the critical lines' },
];
export const OWN: readonly Choice<BuildableAsked['own']>[] = [
  { value: 'used again', label: 'out of the core itself' },
  { value: 'replaced', label: 'all of it out of stores' },
];

export const DONORS: readonly Choice<BuildableAsked['donors']>[] = [
  { value: 'left whole', label: 'left whole' },
  { value: 'broken', label: 'broken for what they surely give' },
];

/** Reads the address; what is none of the choices is as nothing was said. */
export function readBuildableAsked(search: Record<string, unknown>): Partial<BuildableAsked> {
  return {
    ...oneOf(search, 'standard', BuildStandard.options),
    ...oneOf(search, 'lines', ['all', 'critical'] as const),
    ...oneOf(search, 'own', ['used again', 'replaced'] as const),
    ...oneOf(search, 'donors', DonorsAsked.options),
  };
}

export const usuallyAsked: BuildableAsked = { standard: 'serviceable', lines: 'all', own: 'used again', donors: 'left whole' };
