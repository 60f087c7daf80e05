import type { UnidentifiedUnit } from '@corewright/contracts/identify';
import { useQuery } from '@tanstack/react-query';
import { ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead, Section } from '../../ui/Section.js';
import { sayInstant } from '../../ui/say-when.js';
import { VirtualList } from '../../ui/VirtualList.js';
import styles from './Identify.module.css';
import { unidentifiedQuery } from './identify-queries.js';

/** Units of which nobody has said what they are, with what was written and photographed of them. */
export function UnidentifiedScreen() {
  const list = useQuery(unidentifiedQuery);
  return (
    <>
      <PageHead
        title="Not yet identified"
        note="Units that are here and of which nobody has said what they are."
        acts={<ButtonLink href="/stores">All of Stores</ButtonLink>}
      />
      {list.isPending && <Waiting>Looking for them …</Waiting>}
      {list.isError && <Failure error={list.error} word="Not found out" />}
      {list.data !== undefined && (
        <Section title="The oldest first" aside={asideOf(list.data.units.length, list.data.count)}>
          {list.data.units.length === 0 ? (
            <Empty title="None">Of every unit that is here somebody has said what it is.</Empty>
          ) : (
            <VirtualList label="Not yet identified" items={list.data.units} itemKey={(unit) => unit.id} estimate={96}>
              {(unit) => <Unit unit={unit} />}
            </VirtualList>
          )}
        </Section>
      )}
    </>
  );
}

function asideOf(shown: number, count: number): string {
  if (shown < count) return `${shown} of ${count}`;
  return count === 1 ? '1 unit' : `${count} units`;
}

function Unit({ unit }: { readonly unit: UnidentifiedUnit }) {
  const [picture] = unit.pictures;
  return (
    <Go className={styles.unit} href={`/stores/things/${unit.id}/identify`}>
      {picture === undefined ? (
        <span className={styles.noPicture}>no photograph</span>
      ) : (
        <img
          className={styles.picture}
          src={`/api/pictures/${picture}/small`}
          alt={`${unit.words}, photographed`}
          loading="lazy"
        />
      )}
      <span>
        <Code code={unit.code} size="row" /> <b>{unit.words || 'Nothing is written of it'}</b>
        <span className={styles.line}>{unit.marks === '' ? 'no marks read' : `marks ${unit.marks}`}</span>
        <span className="quiet">
          {[unit.places, unit.owner, unit.grade === '' ? '' : `grade ${unit.grade}`].filter(Boolean).join(', ')}
        </span>
      </span>
      <span className="quiet">since {sayInstant(unit.since, new Date())}</span>
    </Go>
  );
}
