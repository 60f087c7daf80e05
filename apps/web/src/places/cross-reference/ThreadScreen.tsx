import {
  type FastenerState,
  flankAngles,
  identifyFastener,
  type OutsideUnit,
  type PitchKind,
} from '@corewright/standards/identify-fastener';
import { useEffect, useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { RadioRow } from '../../ui/RadioRow.js';
import { PageHead, Section } from '../../ui/Section.js';
import { type Choice, SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import { CrossReferencePages } from './CrossReferencePages.js';
import { type FastenerAsked, type FlanksAsked, flanksAsked, nothingAsked } from './fastener-asked.js';
import { ThreadAnswer } from './ThreadAnswer.js';

export interface ThreadScreenProps {
  /** What is asked, as in the address. */
  readonly asked: Partial<FastenerAsked>;
  readonly onAsk: (asked: FastenerAsked) => void;
}

const units: readonly Choice<OutsideUnit>[] = [
  { value: 'mm', label: 'millimetres' },
  { value: 'in', label: 'inches' },
];
const kinds: readonly Choice<PitchKind>[] = [
  { value: 'tpi', label: 'threads to the inch' },
  { value: 'mm', label: 'millimetres from crest to crest' },
];
const states: readonly Choice<FastenerState>[] = [
  { value: 'new', label: 'new' },
  { value: 'worn', label: 'worn' },
  { value: 'plated', label: 'plated' },
];

const flankChoices: readonly Choice<FlanksAsked>[] = flanksAsked.map((angle) => ({
  value: angle,
  label: angle === '' ? 'not known' : `${angle} degrees`,
}));

/** By thread: which threads a screw in the hand can have. Reckoned on the device; nothing is sent. */
export function ThreadScreen({ asked, onAsk }: ThreadScreenProps) {
  const { outside, unit, pitch, kind, state, off, flanks } = { ...nothingAsked, ...asked };
  const [draft, setDraft] = useState<FastenerAsked>({ outside, unit, pitch, kind, state, off, flanks });
  // going back brings the figures of then
  useEffect(() => setDraft({ outside, unit, pitch, kind, state, off, flanks }), [outside, unit, pitch, kind, state, off, flanks]);
  const set = (change: Partial<FastenerAsked>) => setDraft((before) => ({ ...before, ...change }));
  const isAsked = asked.outside !== undefined || asked.pitch !== undefined;
  return (
    <>
      <PageHead title="Cross-reference" note="What it is, and what else will serve." />
      <CrossReferencePages />
      <Section title="A screw by its thread">
        <Form label="A screw by its thread" onSubmit={() => onAsk(draft)}>
          <FieldPair>
            <TextField
              label="Outside diameter"
              value={draft.outside}
              onChange={(keyed) => set({ outside: keyed })}
              note="over the crests: 7.9, or of inches 0.3125 or 5/16"
              maxLength={12}
            />
            <SelectField label="Measured in" value={draft.unit} choices={units} onChange={(picked) => set({ unit: picked })} />
            <TextField
              label="Pitch"
              value={draft.pitch}
              onChange={(keyed) => set({ pitch: keyed })}
              note="empty if it was not measured"
              maxLength={12}
            />
            <SelectField
              label="Pitch counted in"
              value={draft.kind}
              choices={kinds}
              onChange={(picked) => set({ kind: picked })}
            />
            <TextField
              label="May be off by"
              value={draft.off}
              onChange={(keyed) => set({ off: keyed })}
              note="of the outside, in its unit; empty for a calliper’s 0.1 mm"
              maxLength={12}
            />
            <SelectField
              label="Flank angle"
              value={draft.flanks}
              choices={flankChoices}
              onChange={(picked) => set({ flanks: picked })}
              note="by a thread gauge or through a glass"
            />
          </FieldPair>
          <RadioRow label="The screw is" value={draft.state} choices={states} onChange={(picked) => set({ state: picked })} />
          <Acts>
            <Button type="submit" look="main">
              Find the thread
            </Button>
          </Acts>
        </Form>
      </Section>
      {isAsked && (
        <ThreadAnswer
          answer={identifyFastener({
            outside,
            outsideUnit: unit,
            pitch,
            pitchKind: kind,
            state,
            tolerance: off,
            flankAngle: flankAngles.find((angle) => `${angle}` === flanks) ?? null,
          })}
        />
      )}
    </>
  );
}
