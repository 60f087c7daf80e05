import {
  type FastenerState,
  type FlankAngle,
  flankAngles,
  type OutsideUnit,
  type PitchKind,
} from '@corewright/standards/identify-fastener';
import { oneOf, oneText } from '../../routes/search.js';

/** An angle of the flanks as text; empty when not known. */
export type FlanksAsked = `${FlankAngle}` | '';

export const flanksAsked: readonly FlanksAsked[] = ['', ...flankAngles.map((angle) => `${angle}` as const)];

/** What is asked about a fastener, as the address keeps it. */
export interface FastenerAsked {
  readonly outside: string;
  readonly unit: OutsideUnit;
  readonly pitch: string;
  readonly kind: PitchKind;
  readonly state: FastenerState;
  /** How far the outside may be off, in its unit; empty for a calliper's. */
  readonly off: string;
  /** Degrees as text; empty when not known. */
  readonly flanks: FlanksAsked;
}

export const nothingAsked: FastenerAsked = { outside: '', unit: 'mm', pitch: '', kind: 'tpi', state: 'new', off: '', flanks: '' };

/** Reads the address; what is none of the choices is left out. */
export function readFastenerAsked(search: Record<string, unknown>): Partial<FastenerAsked> {
  return {
    ...oneText(search, 'outside'),
    ...oneText(search, 'pitch'),
    ...oneText(search, 'off'),
    ...oneOf({ flanks: String(search.flanks) }, 'flanks', flanksAsked.slice(1)),
    ...oneOf(search, 'unit', ['mm', 'in'] as const),
    ...oneOf(search, 'kind', ['tpi', 'mm'] as const),
    ...oneOf(search, 'state', ['new', 'worn', 'plated'] as const),
  };
}
