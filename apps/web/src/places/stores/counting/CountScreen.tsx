import type { CountPage } from '@corewright/contracts/counting';
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { queue } from '../../../api/queue.js';
import { useKeepsBooks, useWorksWithThings } from '../../../api/session.js';
import { useScanning } from '../../../scan/scanning.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Waiting } from '../../../ui/Empty.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { sayInstant } from '../../../ui/say-when.js';
import { type Column, Table } from '../../../ui/Table.js';
import { useStrikeEntry } from './actions.js';
import { Differences } from './Differences.js';
import { EndForm } from './EndForm.js';
import { Findings } from './Findings.js';
import { countQuery } from './queries.js';

/** A count: where is counted and by whom, what one has scanned oneself, and for those who keep the books what differs. */
export function CountScreen({ countId }: { readonly countId: string }) {
  const count = useQuery(countQuery(countId));
  useRefetchWhenSettled();
  if (count.isPending) return <Waiting>Fetching the count …</Waiting>;
  if (count.data === undefined)
    return (
      <Failure error={count.error} word="Not shown" choices={<Button onPress={() => void count.refetch()}>Try again</Button>} />
    );
  return <CountShown count={count.data} />;
}

/** The server's hint comes too, but whoever counts does not wait for it. */
function useRefetchWhenSettled(): void {
  const client = useQueryClient();
  useEffect(() => queue.onSettled(() => void client.invalidateQueries({ queryKey: ['counting'] })), [client]);
}

function CountShown({ count }: { readonly count: CountPage }) {
  const { modes, desk } = useScanning();
  const keeps = useKeepsBooks();
  const mayCount = useWorksWithThings() && count.endedAt === null;
  const isCounting = modes.mode === 'count' && modes.countId === count.id;
  return (
    <>
      <PageHead
        title={`Count ${count.number}, ${count.title}`}
        note={`${count.part === null ? 'Everything that lies there' : 'This part wherever it lies'}; begun ${sayInstant(count.begunAt, new Date())} by ${count.begunBy}. ${stateOf(count)}`}
        acts={
          <Acts>
            {mayCount && !isCounting && (
              <Button look="main" onPress={() => desk.countIn(count.id)}>
                Count here by scan
              </Button>
            )}
            <ButtonLink href="/stores/counting">All counts</ButtonLink>
          </Acts>
        }
      />
      {isCounting && (
        <p className="read">
          Scan a place, then each thing in it and key how many. When nothing else lies there, press “All is scanned here” or scan
          that command card: what was not scanned is missing then.
        </p>
      )}
      {keeps && count.endedAt === null && <Differences countId={count.id} />}
      <Places count={count} />
      <Findings count={count} />
      <Mine count={count} />
      {keeps && count.endedAt === null && <EndForm count={count} />}
    </>
  );
}

function stateOf({ ending, endedAt, endingWords }: CountPage): string {
  if (endedAt === null) return 'Nobody who counts is shown what the books hold.';
  return `${ending === 'posted' ? 'Posted' : 'Given up'} ${sayInstant(endedAt, new Date())}, ${endingWords}.`;
}

type Place = CountPage['places'][number];

const PLACES: readonly Column<Place>[] = [
  {
    key: 'place',
    head: 'place',
    isLead: true,
    width: '34%',
    cell: ({ id, path }) => <Go href={`/stores/places/${id}`}>{path}</Go>,
  },
  { key: 'code', head: 'code', cell: ({ code }) => code !== '' && <Code code={code} size="row" /> },
  { key: 'who', head: 'who counts', cell: ({ people }) => (people.length === 0 ? 'nobody yet' : people.join(', ')) },
  { key: 'scans', head: 'scans', isNumeric: true, cell: ({ scans }) => scans },
  {
    key: 'state',
    head: 'state',
    cell: ({ closedAt, people }) =>
      closedAt === null ? (
        people.length === 0 ? (
          'not begun'
        ) : (
          <b>under way</b>
        )
      ) : (
        `all scanned ${sayInstant(closedAt, new Date())}`
      ),
  },
  {
    key: 'again',
    head: 'to be counted again',
    isWide: true,
    cell: ({ again }) =>
      again.map(({ thing, words, whose }) => (
        <div key={thing.id}>
          {thing.name}, asked by {words}. <span className="quiet">{whose}</span>
        </div>
      )),
  },
];

function Places({ count }: { readonly count: CountPage }) {
  const open = count.places.filter(({ closedAt }) => closedAt === null).length;
  return (
    <Section title="Places" aside={open === 0 ? 'all scanned' : `${open} of ${count.places.length} not all scanned yet`}>
      {count.places.length === 0 ? (
        <p className="quiet">By the books none of it lies in any place. Scan the place where you find it.</p>
      ) : (
        <Table caption="Places of this count" columns={PLACES} rows={count.places} rowKey={({ id }) => id} />
      )}
    </Section>
  );
}

function Mine({ count }: { readonly count: CountPage }) {
  const strike = useStrikeEntry();
  if (count.mine.length === 0) return null;
  const columns: readonly Column<CountPage['mine'][number]>[] = [
    {
      key: 'thing',
      head: 'thing',
      isLead: true,
      cell: ({ thing, struck }) => (struck ? <s>{thing.name}</s> : thing.name),
    },
    { key: 'code', head: 'code', cell: ({ thing }) => <Code code={thing.code} size="row" /> },
    { key: 'place', head: 'place', isWide: true, cell: ({ place }) => place },
    { key: 'quantity', head: 'counted', isNumeric: true, cell: ({ quantity }) => quantity ?? 'no number yet' },
    {
      key: 'asked',
      head: 'asked for',
      cell: ({ asked }) => (asked === 'once more' ? 'the number once more' : asked),
    },
    { key: 'at', head: 'scanned', cell: ({ at }) => sayInstant(at, new Date()) },
    {
      key: 'strike',
      head: 'by mistake?',
      cell: ({ id, thing, struck }) =>
        struck
          ? 'struck out'
          : count.endedAt === null && (
              <Button look="plain" label={`Strike out the scan of ${thing.code}`} onPress={() => strike.mutate(id)}>
                Strike out
              </Button>
            ),
    },
  ];
  return (
    <Section title="What you have scanned" aside="newest first; the last number of a thing in a place stands">
      {strike.isError && <Failure error={strike.error} word="Not struck out" />}
      <Table caption="What you have scanned" columns={columns} rows={count.mine} rowKey={({ id }) => id} />
    </Section>
  );
}
