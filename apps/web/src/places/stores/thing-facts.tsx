import type { Thing } from '@corewright/contracts/stores';
import { openBearingYears } from '@corewright/standards/bearing-storage';
import { Code } from '../../ui/Code.js';
import { Go } from '../../ui/Go.js';
import { Marks } from '../../ui/Marks.js';
import { sayDay } from '../../ui/say-when.js';
import type { Fact } from '../../ui/TitleBlock.js';
import { packings } from './bearing-choices.js';

/** Why its age alone forbids its use, which the head of its page says; null where it does not. */
export function whyTooOld(thing: Thing): string | null {
  return thing.kind === 'lot' && thing.storageLife.stops ? thing.storageLife.sentence : null;
}

/** The facts of a thing's title block, by its kind. */
export function factsOf(thing: Thing): readonly Fact[] {
  const common: Fact[] = [
    { label: 'Owner', value: thing.owner?.name ?? 'ours' },
    { label: 'Held', value: thing.held, note: thing.claimed === '0' ? 'no claim on it' : `${thing.claimed} claimed` },
  ];
  const load: Fact[] =
    thing.load === null ? [] : [{ label: 'Came with', value: <Go href={`/goods-in/${thing.load.id}`}>{thing.load.name}</Go> }];
  const box: Fact[] =
    thing.outOfBox === null
      ? []
      : [
          {
            label: 'Out of box',
            value: <CodedLink href={`/stores/things/${thing.outOfBox.id}`} code={thing.outOfBox.code} />,
            note: thing.outOfBox.name,
          },
        ];
  return [...ownFacts(thing), ...common, ...box, ...load];
}

function ownFacts(thing: Thing): readonly Fact[] {
  switch (thing.kind) {
    case 'unit':
      return [
        { label: 'Type', value: thing.unitType?.name ?? 'not yet identified' },
        { label: 'Marks', value: thing.marks === '' ? 'none read' : <Marks text={thing.marks} /> },
        { label: 'Stage', value: thing.stage },
        ...(thing.job === null
          ? []
          : [{ label: 'Job', value: <CodedLink href={`/jobs/${thing.job.id}`} code={thing.job.code} />, note: thing.job.name }]),
      ];
    case 'lot':
      return [
        {
          label: 'Part',
          value: thing.part === null ? 'not named yet' : <Go href={`/stores/parts/${thing.part.id}`}>{thing.part.number}</Go>,
          note: thing.part?.name,
        },
        { label: 'Source, make', value: `${thing.source}, ${thing.make}`, note: thing.maker ?? undefined },
        {
          label: 'Condition',
          value: thing.condition === '' ? 'not said' : thing.condition,
          note: thing.fittedOnce ? 'fitted once' : undefined,
        },
        { label: 'Packet', value: thing.packet.asRead === '' ? 'date unknown' : thing.packet.asRead, note: packetNote(thing) },
        {
          label: 'Storage life',
          value: thing.storageLife.state,
          note: whyTooOld(thing) === null ? thing.storageLife.sentence : 'see above',
        },
        ...(thing.donor === null
          ? []
          : [
              {
                label: 'Out of',
                value: <CodedLink href={`/stores/things/${thing.donor.id}`} code={thing.donor.code} />,
                note: thing.donor.name,
              },
            ]),
        ...(thing.thickness === null ? [] : [{ label: 'Thickness', value: `${thing.thickness} mm` }]),
        ...(thing.preservation === null ? [] : [preservedFact(thing.preservation)]),
        ...(thing.marks === '' ? [] : [{ label: 'Marks', value: <Marks text={thing.marks} /> }]),
      ];
    case 'component':
      return [
        {
          label: 'Off unit',
          value: <CodedLink href={`/stores/things/${thing.unit.id}`} code={thing.unit.code} />,
          note: thing.unit.name,
        },
        { label: 'Which', value: `${thing.position} of ${thing.of}` },
        ...(thing.part === null
          ? []
          : [{ label: 'Part', value: <Go href={`/stores/parts/${thing.part.id}`}>{thing.part.name}</Go> }]),
      ];
    case 'unsorted':
      return [{ label: 'Pieces', ...piecesOf(thing) }];
  }
}

function piecesOf({ pieceCount, piecesLeft, saidEmpty }: Extract<Thing, { kind: 'unsorted' }>): Pick<Fact, 'value' | 'note'> {
  if (saidEmpty) return { value: 'none left', note: pieceCount === null ? undefined : `about ${pieceCount} when it came` };
  if (pieceCount === null) return { value: 'not counted' };
  return { value: `about ${piecesLeft}`, note: piecesLeft === pieceCount ? undefined : `of ${pieceCount} when it came` };
}

function preservedFact({ packing, store }: NonNullable<Extract<Thing, { kind: 'lot' }>['preservation']>): Fact {
  return {
    label: 'Bearing',
    value: packings.find((choice) => choice.value === packing)?.label,
    note: store === null ? 'how it was stored is not known' : `stored ${openBearingYears[store].words}`,
  };
}

function packetNote(thing: Extract<Thing, { kind: 'lot' }>): string {
  const { earliest, latest } = thing.packet;
  const span =
    earliest === null || latest === null
      ? ''
      : earliest === latest
        ? sayDay(earliest)
        : `${sayDay(earliest)} to ${sayDay(latest)}`;
  return [span, thing.packetCondition === 'none' ? 'no packet' : thing.packetCondition]
    .filter((words) => words !== '')
    .join('; ');
}

function CodedLink({ href, code }: { readonly href: string; readonly code: string }) {
  return (
    <Go href={href}>
      <Code code={code} />
    </Go>
  );
}
