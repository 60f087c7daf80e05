import { BuildStandard } from '@corewright/contracts/base';
import type { LinesAsked, OwnParts } from '@corewright/contracts/buildable';
import type * as z from 'zod';
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
    ...one('standard', BuildStandard.options, search),
    ...one('lines', ['all', 'critical'] as const, search),
    ...one('own', ['used again', 'replaced'] as const, search),
  };
}

function one<Name extends string, Value extends string>(
  name: Name,
  values: readonly Value[],
  search: Record<string, unknown>,
): { [Key in Name]?: Value } {
  const value = values.find((each) => each === search[name]);
  return value === undefined ? {} : ({ [name]: value } as { [Key in Name]?: Value });
}

export const usuallyAsked: BuildableAsked = { standard: 'serviceable', lines: 'all', own: 'used again' };
