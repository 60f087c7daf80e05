import {
  type PairThatFits,
  pairsThatFit,
  rangeOf,
  type TurnsCounted,
  turnsToTellApart,
  whyNoRange,
} from '@corewright/gears/counted-turns';
import { sayRatio } from '@corewright/gears/ratio';
import { readTeethBetween, readTurns } from '@corewright/gears/read-counts';
import { Acts, Button } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { Empty } from '../../ui/Empty.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { RadioRow } from '../../ui/RadioRow.js';
import { Section } from '../../ui/Section.js';
import type { Choice } from '../../ui/SelectField.js';
import { Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import type { OutputAsked, RatioAsked } from './ratio-asked.js';
import { useTypesOfRatio } from './use-types-of-ratio.js';

export interface RatioByTurnsProps {
  /** What is asked, as in the address. */
  readonly asked: RatioAsked;
  readonly draft: RatioAsked;
  readonly onDraft: (change: Partial<RatioAsked>) => void;
  readonly onAsk: () => void;
}

const sides: readonly Choice<OutputAsked>[] = [
  { value: 'wheel', label: 'both sides together, or the wheel itself' },
  { value: 'held', label: 'one side, the other held' },
];

/** So many pairs are read by nobody; the rest are counted. */
const shownMax = 20;

/** Counted turns: between which ratios it lies, and which pairs of teeth fit. */
export function RatioByTurns({ asked, draft, onDraft, onAsk }: RatioByTurnsProps) {
  return (
    <>
      <Section title="A ratio by counted turns">
        <Form label="A ratio by counted turns" onSubmit={onAsk}>
          <FieldPair>
            <TextField
              label="Turns of the input"
              value={draft.input}
              onChange={(input) => onDraft({ input })}
              note="9 3/4 or 9.75"
              maxLength={12}
            />
            <TextField
              label="May be off by"
              value={draft.off}
              onChange={(off) => onDraft({ off })}
              note="of a turn; an eighth by a chalk mark"
              maxLength={12}
            />
            <TextField
              label="Turns of the output"
              value={draft.output}
              onChange={(output) => onDraft({ output })}
              note="the more, the nearer"
              maxLength={12}
            />
          </FieldPair>
          <RadioRow label="What turned" value={draft.side} choices={sides} onChange={(side) => onDraft({ side })} />
          <FieldPair>
            <TextField
              label="Driver’s teeth between"
              value={draft.drivers}
              onChange={(drivers) => onDraft({ drivers })}
              note="6 to 14; of a worm, its starts"
              maxLength={12}
            />
            <TextField
              label="Driven’s teeth between"
              value={draft.drivens}
              onChange={(drivens) => onDraft({ drivens })}
              note="30 to 60"
              maxLength={12}
            />
          </FieldPair>
          <Acts>
            <Button type="submit" look="main">
              Find the teeth
            </Button>
          </Acts>
          <CautionLine>
            Chock the wheels and stand it firm before you turn it; keep fingers, sleeves and rags out of open gears.
          </CautionLine>
        </Form>
      </Section>
      {asked.input !== '' && <TurnsAnswer asked={asked} />}
    </>
  );
}

function TurnsAnswer({ asked }: { readonly asked: RatioAsked }) {
  const counted: TurnsCounted = {
    inputTurns: readTurns(asked.input) ?? Number.NaN,
    mayBeOffBy: readTurns(asked.off) ?? Number.NaN,
    outputTurns: readTurns(asked.output) ?? Number.NaN,
    output: asked.side === 'held' ? 'one side, the other held' : 'both sides, or the wheel itself',
  };
  const [driver, driven] = [readTeethBetween(asked.drivers), readTeethBetween(asked.drivens)];
  const why = whyNoRange(counted) ?? (driver && driven ? null : 'Say between how many teeth to look, as 6 to 14.');
  if (why !== null || driver === null || driven === null)
    return (
      <Section title="No ratio yet">
        <Empty title="Count again">{why}</Empty>
      </Section>
    );
  const range = rangeOf(counted);
  const pairs = pairsThatFit(range, { driver, driven });
  return (
    <Section
      title={`Between ${outward(range.least, Math.floor)} and ${outward(range.most, Math.ceil)} to 1`}
      aside={`${range.middle.toFixed(3)} in the middle`}
    >
      {pairs.length === 0 ? (
        <Empty title="No pair of teeth fits">
          Of {asked.drivers} teeth on the driver and {asked.drivens} on the driven, none gives such a ratio. Look among more
          teeth, or count the turns again.
        </Empty>
      ) : (
        <>
          <p>{sayHowToTell(pairs, counted)}</p>
          <Pairs pairs={pairs.slice(0, shownMax)} />
          {pairs.length > shownMax && (
            <p className="quiet">And {pairs.length - shownMax} more that lie further off. Turn it further, and fewer fit.</p>
          )}
        </>
      )}
    </Section>
  );
}

/** How far to turn until the nearest pair and the next with another ratio cannot be taken for one another. */
function sayHowToTell(pairs: readonly PairThatFits[], counted: TurnsCounted): string {
  const [first, ...others] = pairs;
  if (first === undefined) return '';
  if (others.length === 0) return 'One pair of teeth fits. Count the teeth when it is open.';
  for (const next of others) {
    const turns = turnsToTellApart(first.ratio, next.ratio, counted);
    if (turns === null) continue;
    const what = counted.output === 'one side, the other held' ? 'the free side' : 'the output';
    return `${pairs.length} pairs fit. To tell ${sayPair(first)} from ${sayPair(next)}, read as closely as this, turn ${what} ${turns} times.`;
  }
  return `${pairs.length} pairs fit, all of one ratio: no turning tells them apart. Count the teeth.`;
}

const sayPair = ({ driver, driven }: PairThatFits): string => `${driver} and ${driven}`;

function Pairs({ pairs }: { readonly pairs: readonly PairThatFits[] }) {
  const typesOf = useTypesOfRatio();
  return (
    <Table
      caption="Pairs of teeth that fit, the nearest first"
      rows={pairs}
      rowKey={sayPair}
      columns={[
        { key: 'pair', head: 'driver, driven', isLead: true, width: '150px', cell: (pair) => <b>{sayPair(pair)}</b> },
        { key: 'ratio', head: 'ratio', width: '110px', cell: ({ ratio }) => sayRatio(ratio) },
        { key: 'off', head: 'off by', width: '110px', cell: ({ offBy }) => `${(offBy * 100).toFixed(2)} %` },
        { key: 'hunting', head: 'do the same teeth meet', cell: ({ hunting }) => hunting },
        { key: 'types', head: 'has this ratio', cell: ({ ratio }) => typesOf(ratio) || 'no type in the books' },
      ]}
    />
  );
}

/** To three places and away from the middle, so that no ratio which fits stands outside of what is said. */
function outward(ratio: number, round: (value: number) => number): string {
  const thousandths = ratio * 1000;
  const nearest = Math.round(thousandths);
  return ((Math.abs(thousandths - nearest) < 1e-6 ? nearest : round(thousandths)) / 1000).toFixed(3);
}
