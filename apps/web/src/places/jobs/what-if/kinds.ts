import type { Choice } from '../../../ui/SelectField.js';
import type { DraftKind } from './draft.js';

export const KINDS: readonly Choice<DraftKind>[] = [
  { value: 'first', label: 'a job comes first' },
  { value: 'core', label: 'a core is broken for its parts' },
  { value: 'order', label: 'an order comes later, or not at all' },
  { value: 'instead', label: 'another part is accepted for a line' },
  { value: 'instead-everywhere', label: 'another part is accepted wherever one is asked for' },
  { value: 'standard', label: 'a job is built to another standard' },
];
