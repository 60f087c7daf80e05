import type { InspectionShown, Thing } from '@corewright/contracts/stores';
import { useQuery } from '@tanstack/react-query';
import { useQueue } from '../../api/use-queue.js';
import { Button } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { Code } from '../../ui/Code.js';
import { Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { sayDay, sayInstant } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { TitleBlock } from '../../ui/TitleBlock.js';
import { StripDownRecord } from '../bench/strip-down/StripDownRecord.js';
import { LabelsOf } from '../labels/LabelsOf.js';
import { Photographs } from '../photographs/Photographs.js';
import { pictures, picturesOf } from '../photographs/pictures.js';
import { AcceptanceRecord } from './AcceptanceRecord.js';
import { AlikeLine } from './AlikeLine.js';
import { AnswersSection } from './Answers.js';
import { ApartSection } from './apart/ApartSection.js';
import { BoxSection } from './boxes/BoxSection.js';
import { CoreReviews } from './CoreReviews.js';
import { ContainerSection } from './consumables/ContainerSection.js';
import { KeptForJobsSection } from './counter/KeptForJobs.js';
import { LastCounted } from './counting/LastCounted.js';
import { HistorySection } from './history/HistorySection.js';
import { Identifications } from './Identifications.js';
import { KeptSets } from './KeptSets.js';
import { Missing } from './Missing.js';
import { PassedOnSection } from './PassedOnSection.js';
import { thingQuery } from './queries.js';
import { PartedAndJoined, PartOfAnother } from './regroup/PartedAndJoined.js';
import { ThingActs } from './ThingActs.js';
import { ThingCostSection } from './ThingCostSection.js';
import styles from './ThingScreen.module.css';
import { ThingTag } from './ThingTag.js';
import { factsOf, whyTooOld } from './thing-facts.js';

/** A unit, a lot, a component or something unsorted: what it is, where it lies, whose claim is on it, where it has been. */
export function ThingScreen({ thingId }: { readonly thingId: string }) {
  const thing = useQuery(thingQuery(thingId));
  if (thing.isPending) return <Waiting>Fetching it …</Waiting>;
  if (thing.data === undefined)
    return (
      <Failure error={thing.error} word="Not shown" choices={<Button onPress={() => void thing.refetch()}>Try again</Button>} />
    );
  return <ThingShown thing={thing.data} />;
}

function ThingShown({ thing }: { readonly thing: Thing }) {
  return (
    <>
      <h1 className="hidden">
        {thing.code}, {thing.name}
      </h1>
      <div className={styles.top}>
        <ThingTag thing={thing} />
        <ThingActs thing={thing} />
      </div>
      <Missing thing={thing} />
      {thing.kind === 'lot' && <PartOfAnother lotId={thing.id} />}
      <Barred thing={thing} />
      <TitleBlock className={styles.facts} facts={factsOf(thing)} />
      {thing.note !== '' && <p className={styles.note}>{thing.note}</p>}
      <div className={styles.two}>
        <div>
          {thing.kind === 'unsorted' && <BoxSection boxId={thing.id} />}
          <Section
            title="Where it lies"
            aside={
              thing.lastSeen === null
                ? undefined
                : `last seen ${sayInstant(thing.lastSeen.at, new Date())} by ${thing.lastSeen.by}`
            }
          >
            {thing.holdings.length === 0 ? (
              <p className="quiet">Nothing of it is held any more.</p>
            ) : (
              <Table caption="Where it lies" columns={HOLDINGS} rows={thing.holdings} rowKey={(holding) => holding.holderId} />
            )}
            <AlikeLine sought={{ of: 'things', id: thing.id }} className={styles.alike} />
          </Section>
          <Section title="Claims">
            {thing.claims.length === 0 ? (
              <p className="quiet">No job has a claim on it.</p>
            ) : (
              <Table caption="Claims" columns={CLAIMS} rows={thing.claims} rowKey={(claim) => claim.id} />
            )}
          </Section>
          {thing.kind === 'lot' && <PartedAndJoined lot={thing} />}
          <LabelsOf subjectId={thing.id} />
          <ApartSection thing={thing} />
          {thing.kind === 'lot' && <ContainerSection thing={thing} />}
          <ThingCostSection thingId={thing.id} />
          {thing.kind !== 'unsorted' && thing.owner === null && (
            <KeptForJobsSection of={{ thingId: thing.id }} isSold={thing.held !== '0'} />
          )}
          <LastCounted of="things" id={thing.id} />
          {thing.kind === 'lot' && <Inspections inspections={thing.inspections} />}
          {thing.kind === 'unit' && <StripDownRecord unitId={thing.id} />}
          {(thing.kind === 'unit' || thing.kind === 'unsorted') && <PassedOnSection wholeId={thing.id} />}
          {(thing.kind === 'lot' || thing.kind === 'component') && <KeptSets thingId={thing.id} />}
          {thing.kind === 'unit' && <AcceptanceRecord unitId={thing.id} />}
          {thing.kind === 'unit' && <CoreReviews unitId={thing.id} />}
          {thing.kind === 'unit' && <Identifications unitId={thing.id} />}
          {(thing.kind === 'unit' || thing.kind === 'unsorted') && <AnswersSection thingId={thing.id} />}
          <Pictures thing={thing} />
        </div>
        <HistorySection of="thing" id={thing.id} />
      </div>
      {thing.kind === 'unit' && (
        <div className={styles.caution}>
          <CautionLine>
            Castings are heavy. Old gaskets and linings can hold asbestos, old paint lead. Follow the maker’s manual, local codes
            and qualified practice.
          </CautionLine>
        </div>
      )}
    </>
  );
}

const HOLDINGS: readonly Column<Thing['holdings'][number]>[] = [
  { key: 'where', head: 'where', isLead: true, cell: (holding) => <HoldingWords holding={holding} /> },
  { key: 'code', head: 'code', cell: (holding) => holding.code !== null && <Code code={holding.code} size="row" /> },
  { key: 'quantity', head: 'quantity', isNumeric: true, cell: (holding) => holding.quantity },
];

const CLAIMS: readonly Column<Thing['claims'][number]>[] = [
  { key: 'job', head: 'job', isLead: true, cell: (claim) => <ClaimWords claim={claim} /> },
  { key: 'quantity', head: 'quantity', isNumeric: true, cell: (claim) => claim.quantity },
];

const INSPECTIONS: readonly Column<InspectionShown>[] = [
  { key: 'outcome', head: 'outcome', isLead: true, cell: (each) => <b>{each.passed ? 'passed' : 'not passed'}</b> },
  { key: 'day', head: 'on', cell: (each) => sayDay(each.inspectedOn) },
  { key: 'by', head: 'recorded by', cell: (each) => each.by },
  { key: 'lookedAt', head: 'looked at', isWide: true, cell: (each) => each.lookedAt },
  { key: 'words', head: 'found', isWide: true, cell: (each) => each.words },
];

/** Nothing is shown of what nobody has inspected: most lots never need it. */
function Inspections({ inspections }: { readonly inspections: readonly InspectionShown[] }) {
  if (inspections.length === 0) return null;
  return (
    <Section title="Inspections" aside="newest first">
      <Table caption="Inspections" columns={INSPECTIONS} rows={inspections} rowKey={(each) => each.id} />
    </Section>
  );
}

function HoldingWords({ holding }: { readonly holding: Thing['holdings'][number] }) {
  if (holding.holderKind !== 'place') return <>{holding.words}</>;
  return <Go href={`/stores/places/${holding.holderId}`}>{holding.words}</Go>;
}

function ClaimWords({ claim }: { readonly claim: Thing['claims'][number] }) {
  return (
    <Go href={`/jobs/${claim.claimant.id}`}>
      <Code code={claim.claimant.code} /> {claim.claimant.name}
    </Go>
  );
}

/** What forbids its use, in words and at the head of the page. */
function Barred({ thing }: { readonly thing: Thing }) {
  const reasons = [
    thing.condemned ? 'Condemned for good: it serves no job. Say what becomes of it.' : null,
    thing.heldBack === null ? null : `Held back by ${thing.heldBack.by}: ${thing.heldBack.reason}`,
    whyTooOld(thing),
  ].filter((reason) => reason !== null);
  if (reasons.length === 0) return null;
  return (
    <div className={styles.barred}>
      <b>Not for service</b>
      <ul>
        {reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
      </ul>
    </div>
  );
}

function Pictures({ thing }: { readonly thing: Thing }) {
  const standing = thing.pictures.filter(({ struckOut }) => struckOut === null);
  const { waiting } = picturesOf(useQueue(pictures), thing.id);
  if (thing.pictures.length + waiting.length === 0) return null;
  return (
    <Section title={`Photographs, ${standing.length}`}>
      <Photographs pictures={thing.pictures} subject={thing.name} subjectIds={[thing.id]} />
    </Section>
  );
}
