import type { AcceptancesOfUnit } from '@corewright/contracts/acceptance';
import type { UnitThing } from '@corewright/contracts/stores';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type * as z from 'zod';
import { useWorksWithThings } from '../../api/session.js';
import { sayCode } from '../../scan/acts.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead } from '../../ui/Section.js';
import { Photographs } from '../photographs/Photographs.js';
import { TakePhotographs } from '../photographs/TakePhotographs.js';
import styles from './Acceptance.module.css';
import { AcceptanceForm } from './AcceptanceForm.js';
import { AcceptanceRecord } from './AcceptanceRecord.js';
import { AcceptanceStanding } from './AcceptanceStanding.js';
import { acceptancesQuery } from './acceptance-queries.js';
import { thingQuery } from './queries.js';

/** A unit as a core: what is asked of its type, what was seen of it, and what was decided. */
export function AcceptanceScreen({ thingId }: { readonly thingId: string }) {
  const thing = useQuery(thingQuery(thingId));
  if (thing.isPending) return <Waiting>Fetching it …</Waiting>;
  if (thing.data === undefined) return <Failure error={thing.error} word="Not shown" />;
  if (thing.data.kind !== 'unit') return <p role="status">Only a unit is looked over so. This is a {thing.data.kind}.</p>;
  return <OfUnit unit={thing.data} />;
}

function OfUnit({ unit }: { readonly unit: z.infer<typeof UnitThing> }) {
  const found = useQuery(acceptancesQuery(unit.id));
  const mayFillIn = useWorksWithThings();
  const [isFillingIn, setFillingIn] = useState(false);
  const standingPictures = unit.pictures.filter(({ struckOut }) => struckOut === null);
  return (
    <>
      <PageHead
        title="Acceptance sheet"
        note={`${sayCode(unit.code)}, ${unit.unitType?.name ?? (unit.words || 'not yet identified')}${unit.marks === '' ? '' : `; marks ${unit.marks}`}`}
        acts={
          <Acts>
            <ButtonLink href={`/stores/things/${unit.id}`}>Its page</ButtonLink>
            {mayFillIn && <TakePhotographs subjectId={unit.id} taken={standingPictures.length} />}
          </Acts>
        }
      />
      <Photographs pictures={unit.pictures} subject={unit.name} subjectIds={[unit.id]} />
      {found.isPending && <Waiting>Fetching what is asked …</Waiting>}
      {found.data === undefined ? (
        found.isError && <Failure error={found.error} word="Not shown" />
      ) : (
        <Sheets
          unitId={unit.id}
          found={found.data}
          isFillingIn={isFillingIn && mayFillIn}
          mayFillIn={mayFillIn}
          onFillIn={setFillingIn}
        />
      )}
    </>
  );
}

interface SheetsProps {
  readonly unitId: string;
  readonly found: AcceptancesOfUnit;
  readonly isFillingIn: boolean;
  readonly mayFillIn: boolean;
  readonly onFillIn: (isFillingIn: boolean) => void;
}

function Sheets({ unitId, found: { terms, cannot, acceptances }, isFillingIn, mayFillIn, onFillIn }: SheetsProps) {
  const standing = acceptances.find(({ superseded }) => !superseded);
  const canFillIn = mayFillIn && cannot === null && terms !== null;
  const showsForm = canFillIn && (isFillingIn || standing === undefined);
  return (
    <>
      {cannot !== null && <p role="status">{cannot}</p>}
      {showsForm && (
        <AcceptanceForm
          unitId={unitId}
          terms={terms}
          onKept={() => onFillIn(false)}
          onClose={standing === undefined ? null : () => onFillIn(false)}
        />
      )}
      {!showsForm && standing !== undefined && <AcceptanceStanding acceptance={standing} />}
      {!showsForm && standing === undefined && cannot === null && <p className="quiet">Nobody has looked it over yet.</p>}
      {canFillIn && !showsForm && (
        <div className={styles.foot}>
          <Button onPress={() => onFillIn(true)}>Fill in another sheet</Button>
        </div>
      )}
      {acceptances.length > 1 && <AcceptanceRecord unitId={unitId} />}
    </>
  );
}
