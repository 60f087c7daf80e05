import type { PlaceNode } from '@corewright/contracts/places';
import { useQueries, useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useKeepsBooks } from '../../../api/session.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import { VirtualList } from '../../../ui/VirtualList.js';
import { placeLevelQuery } from '../queries.js';
import { sayThings } from '../say-things.js';
import styles from './PlaceTree.module.css';
import { treeRows } from './tree-rows.js';
import { AddPlaceForm } from './WhatItIsForm.js';

/** All places, level by level: what stands in one is fetched when it is opened, so that there may be as many as there are. */
export function PlaceTree() {
  const [open, setOpen] = useState<readonly string[]>(recallOpen);
  const top = useQuery(placeLevelQuery(null));
  const levels = useQueries({ queries: open.map((id) => placeLevelQuery(id)) });
  if (top.isPending) return <Waiting>Fetching the places …</Waiting>;
  if (top.data === undefined)
    return <Failure error={top.error} word="Not shown" choices={<Button onPress={() => void top.refetch()}>Try again</Button>} />;
  const level = (within: string | null) => (within === null ? top.data.places : levels[open.indexOf(within)]?.data?.places);
  const rows = treeRows(level, new Set(open));
  const toggle = (id: string) => {
    const next = open.includes(id) ? open.filter((each) => each !== id) : [...open, id];
    setOpen(next);
    keepOpen(next);
  };
  const failed = levels.find(({ isError }) => isError);
  if (rows.length === 0) return <NoPlaces />;
  return (
    <Section title="Places" aside={countAll(top.data.places)}>
      <VirtualList label="Places" items={rows} itemKey={({ place }) => place.id} estimate={57}>
        {({ place, depth, isOpen }) => <Row place={place} depth={depth} isOpen={isOpen} onToggle={() => toggle(place.id)} />}
      </VirtualList>
      {failed !== undefined && (
        <Failure
          error={failed.error}
          word="Not opened"
          choices={<Button onPress={() => void failed.refetch()}>Try again</Button>}
        />
      )}
      <AddAtTop />
    </Section>
  );
}

interface RowProps {
  readonly place: PlaceNode;
  readonly depth: number;
  readonly isOpen: boolean;
  readonly onToggle: () => void;
}

function Row({ place, depth, isOpen, onToggle }: RowProps) {
  return (
    <div className={styles.row} style={{ '--depth': Math.min(depth, 6) } as React.CSSProperties}>
      {place.placesBelow > 0 ? (
        <button type="button" className={styles.toggle} aria-expanded={isOpen} onClick={onToggle}>
          {isOpen ? 'shut' : 'open'}
          <span className="hidden"> what stands in {place.name}</span>
        </button>
      ) : (
        <span />
      )}
      <Go className={styles.place} href={`/stores/places/${place.id}`}>
        <span className={styles.code}>
          <Code code={place.code} size="row" />
        </span>
        <span>
          <b className={styles.name}>{place.name}</b> <span className="quiet">{place.kind}</span>
          {place.isClosed && <b className={styles.closed}> closed</b>}
        </span>
        <span className={styles.count}>{countOf(place)}</span>
      </Go>
    </div>
  );
}

function countOf({ placesBelow, thingCount, thingsBelow }: PlaceNode): string {
  if (placesBelow === 0) return sayThings(thingCount);
  return `${sayPlaces(placesBelow)}, ${sayThings(thingCount + thingsBelow)}`;
}

function sayPlaces(count: number): string {
  return count === 1 ? '1 place' : `${count} places`;
}

function countAll(top: readonly PlaceNode[]): string {
  const standing = top.filter(({ kind }) => kind !== 'tray');
  const count = standing.reduce((sum, { placesBelow }) => sum + placesBelow + 1, 0);
  return `${sayPlaces(count)}; open one to see what stands in it`;
}

function AddAtTop() {
  const { which, open, close } = useOneForm<'add'>();
  if (!useKeepsBooks()) return null;
  if (which !== null) return <AddPlaceForm around={null} onDone={close} onClose={close} />;
  return (
    <Acts>
      <Button onPress={() => open('add')}>A further place</Button>
    </Acts>
  );
}

function NoPlaces() {
  return (
    <>
      <Empty title="No places yet" choices={<ButtonLink href="/settings">To Settings</ButtonLink>}>
        Racks, bins and yards come in with an import in Settings: one row for each, with its path. Or add the first one here.
      </Empty>
      <AddAtTop />
    </>
  );
}

const shelf = 'corewright.places-open';

/** Which places were open in this tab, so that whoever comes back from one finds the tree as it was left. */
function recallOpen(): readonly string[] {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(shelf) ?? '[]');
    return Array.isArray(kept) ? kept.filter((id) => typeof id === 'string') : [];
  } catch {
    return [];
  }
}

function keepOpen(open: readonly string[]): void {
  try {
    sessionStorage.setItem(shelf, JSON.stringify(open));
  } catch {
    // the tree is then shut when one comes back
  }
}
