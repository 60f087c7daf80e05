import type { LoadBrief } from '@corewright/contracts/goods-in';
import { useInfiniteQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead } from '../../ui/Section.js';
import { sayDayWithWeekday } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { BlankLabels } from './BlankLabels.js';
import { OpenLoadForm } from './OpenLoadForm.js';
import { loadsQuery } from './queries.js';

const COLUMNS: readonly Column<LoadBrief>[] = [
  { key: 'load', head: 'load', isLead: true, width: '38%', cell: (load) => <LoadLink load={load} /> },
  { key: 'seller', head: 'bought from', cell: (load) => load.seller },
  { key: 'bought', head: 'bought', cell: (load) => sayDayWithWeekday(load.boughtOn) },
  { key: 'rows', head: 'rows', isNumeric: true, cell: (load) => load.rowCount },
  { key: 'labels', head: 'labels', cell: (load) => <LabelState load={load} /> },
];

/** Goods-in: what came off the van, newest first. */
export function LoadsScreen() {
  const loads = useInfiniteQuery(loadsQuery);
  const [isOpening, setOpening] = useState(false);
  const all = loads.data?.pages.flatMap((page) => page.loads) ?? [];
  return (
    <>
      <PageHead
        title="Goods-in"
        note="What came off the van: one load, one row for each thing, one label for each row."
        acts={
          !isOpening && (
            <Button look="main" onPress={() => setOpening(true)}>
              Begin a load
            </Button>
          )
        }
      />
      {isOpening && <OpenLoadForm onClose={() => setOpening(false)} />}
      {loads.isPending && <Waiting>Fetching the loads …</Waiting>}
      {loads.isError && (
        <Failure error={loads.error} word="Not shown" choices={<Button onPress={() => void loads.refetch()}>Try again</Button>} />
      )}
      {loads.isSuccess && all.length === 0 && !isOpening && (
        <Empty title="Nothing has come in yet" choices={<Button onPress={() => setOpening(true)}>Begin a load</Button>}>
          Begin a load when something comes off the van: say where it was bought, then key a row for each thing. Each row has its
          code at once.
        </Empty>
      )}
      {all.length > 0 && <Table caption="Loads, newest first" columns={COLUMNS} rows={all} rowKey={(load) => load.id} />}
      {loads.hasNextPage && (
        <Acts>
          <Button onPress={() => void loads.fetchNextPage()} isPending={loads.isFetchingNextPage}>
            Show older loads
          </Button>
        </Acts>
      )}
      <BlankLabels />
    </>
  );
}

function LoadLink({ load }: { readonly load: LoadBrief }) {
  return (
    <Go href={`/goods-in/${load.id}`}>
      <b>Load {load.number}</b>, {load.words}
    </Go>
  );
}

function LabelState({ load }: { readonly load: LoadBrief }) {
  if (load.rowCount === 0) return <span className="quiet">no rows yet</span>;
  if (load.unlabelled === 0) return <span className="quiet">all printed</span>;
  return <b>{load.unlabelled} to print</b>;
}
