import type { FastenerState, OutsideUnit, PitchKind } from '@corewright/standards/identify-fastener';
import { oneText } from '../../routes/search.js';

/** What is asked about a fastener, as the address keeps it. */
export interface FastenerAsked {
  readonly outside: string;
  readonly unit: OutsideUnit;
  readonly pitch: string;
  readonly kind: PitchKind;
  readonly state: FastenerState;
}

export const nothingAsked: FastenerAsked = { outside: '', unit: 'mm', pitch: '', kind: 'tpi', state: 'new' };

/** Reads the address; what is none of the choices is left out. */
export function readFastenerAsked(search: Record<string, unknown>): Partial<FastenerAsked> {
  return {
    ...oneText(search, 'outside'),
    ...oneText(search, 'pitch'),
    ...oneOf(search, 'unit', ['mm', 'in'] as const),
    ...oneOf(search, 'kind', ['tpi', 'mm'] as const),
    ...oneOf(search, 'state', ['new', 'worn', 'plated'] as const),
  };
}

function oneOf<Name extends string, Value extends string>(
  search: Record<string, unknown>,
  name: Name,
  values: readonly Value[],
): { [Key in Name]?: Value } {
  const found: { [Key in Name]?: Value } = {};
  const value = values.find((each) => each === search[name]);
  if (value !== undefined) found[name] = value;
  return found;
}
