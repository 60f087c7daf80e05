import type { AsOfLine, AsOfSum, AsOfTotals } from '@corewright/contracts/stock-as-of';
import { useInfiniteQuery, useQuery } from '@tanstack/react-query';
import { useMemo, useState } from 'react';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { dayOf, sayDay } from '../../../ui/say-when.js';
import { type Column, Table } from '../../../ui/Table.js';
import { TextField } from '../../../ui/TextField.js';
import { VirtualList } from '../../../ui/VirtualList.js';
import { PlaceField } from '../place/PlaceField.js';
import list from '../StoresScreen.module.css';
import { type AsOfAsked, instantAsked } from './as-of-asked.js';
import { asOfLinesQuery, asOfTotalsQuery, fileOf } from './queries.js';

export interface AsOfScreenProps {
  /** As in the address. */
  readonly asked: AsOfAsked;
  readonly onAsk: (asked: AsOfAsked) => void;
}

/** What was where on a day that has passed: everything, or a place with all that stands in it. */
export function AsOfScreen({ asked, onAsk }: AsOfScreenProps) {
  // one instant for as long as the address is the same: "today" means until it was asked
  const at = useMemo(() => instantAsked(asked, new Date()), [asked.on, asked.time]);
  return (
    <>
      <PageHead
        title="As it stood"
        note="What was where at the end of a minute or a day, by what is on record. Quantities, places and owners are those of then; names are those of today."
        acts={<ButtonLink href="/stores">All of Stores</ButtonLink>}
      />
      <AskForm asked={asked} onAsk={onAsk} />
      {at === null ? (
        <Empty title="Which day?">
          Choose a day; without a time it is the end of that day. Without a place it is everything.
        </Empty>
      ) : (
        <Stood key={`${at} ${asked.place}`} at={at} placeId={asked.place} />
      )}
    </>
  );
}

function AskForm({ asked, onAsk }: AsOfScreenProps) {
  const [on, setOn] = useState(asked.on);
  const [time, setTime] = useState(asked.time);
  const [place, setPlace] = useState({ id: asked.place, text: '' });
  const [error, setError] = useState<string | null>(null);
  const submit = () => {
    if (instantAsked({ on, time }, new Date()) === null) return setError('Choose a day first.');
    if (place.text.trim() !== '' && place.id === '') return setError('Choose the place from the list, or leave it empty.');
    setError(null);
    onAsk({ on, time, place: place.id });
  };
  return (
    <Form label="As it stood" onSubmit={submit}>
      <FieldPair>
        <TextField label="Day" type="date" value={on} onChange={setOn} error={error} />
        <TextField
          label="Time"
          type="time"
          value={time}
          onChange={setTime}
          note="by this device’s clock; empty is the end of the day"
        />
      </FieldPair>
      <PlaceField
        label="Place"
        placeId={place.id}
        onPlace={(placeId, text) => setPlace({ id: placeId ?? '', text })}
        note="with all that stands in it; empty is everything"
        isQuiet
        withTrays
      />
      <Acts>
        <Button type="submit" look="main">
          Show it
        </Button>
      </Acts>
    </Form>
  );
}

function Stood({ at, placeId }: { readonly at: string; readonly placeId: string }) {
  const lines = useInfiniteQuery(asOfLinesQuery(at, placeId));
  const all = lines.data?.pages.flatMap((page) => page.lines) ?? [];
  if (lines.isPending) return <Waiting>Reckoning what was there …</Waiting>;
  if (lines.isError && all.length === 0)
    return (
      <Failure
        error={lines.error}
        word="Not reckoned"
        choices={<Button onPress={() => void lines.refetch()}>Try again</Button>}
      />
    );
  const first = lines.data?.pages[0];
  return (
    <>
      <Sums at={at} placeId={placeId} />
      {first?.isSettled === false && (
        <p className="quiet">
          Something that was being written then is not through yet, so that a little may still be added. Ask again in a moment.
        </p>
      )}
      <Section title={first?.place?.name ?? 'Everything'} aside={`as it stood ${sayMoment(at)}`}>
        {all.length === 0 ? (
          <Empty title="Nothing was here">By what is on record nothing lay here then.</Empty>
        ) : (
          <>
            <Acts>
              <ButtonLink href={fileOf(at, placeId)} opensDocument>
                All of it for a spreadsheet
              </ButtonLink>
            </Acts>
            <VirtualList label="What was there" items={all} itemKey={(line) => `${line.where.id} ${line.thingId}`} estimate={56}>
              {(line) => <Line line={line} />}
            </VirtualList>
          </>
        )}
        {lines.isFetchNextPageError && (
          <Failure word="Not reckoned" error={lines.error} kept="What was shown before stands above." />
        )}
        {lines.hasNextPage && (
          <Button onPress={() => void lines.fetchNextPage()} isPending={lines.isFetchingNextPage}>
            {lines.isFetchNextPageError ? 'Try again' : 'Show more'}
          </Button>
        )}
      </Section>
    </>
  );
}

function Line({ line }: { readonly line: AsOfLine }) {
  return (
    <Go className={list.hit} href={`/stores/things/${line.thingId}`}>
      <span className={list.code}>
        {line.code === null ? <span className="quiet">{line.kind}</span> : <Code code={line.code} size="row" />}
      </span>
      <span>
        <b className={list.name}>{line.name}</b> <span className="quiet">{line.detail}</span>
        {line.owner !== null && <b> {line.owner.name}’s</b>}
      </span>
      <span className={list.where}>{line.where.isPlace ? line.where.name : `at ${line.where.name}`}</span>
      <span className={list.quantity}>{withUnit(line.quantity, line.unitOfMeasure)}</span>
    </Go>
  );
}

const SUMS: readonly Column<AsOfSum>[] = [
  { key: 'kind', head: 'what', isLead: true, cell: (sum) => KINDS[sum.kind] },
  { key: 'whose', head: 'whose', cell: (sum) => (sum.isCustomers ? <b>customers’</b> : 'ours') },
  { key: 'things', head: 'labels', isNumeric: true, cell: (sum) => sum.things },
  { key: 'quantity', head: 'in all', isNumeric: true, cell: (sum) => withUnit(sum.quantity, sum.unitOfMeasure) },
];

const KINDS: Readonly<Record<AsOfSum['kind'], string>> = {
  unit: 'units',
  lot: 'lots of parts',
  component: 'components',
  unsorted: 'boxes not sorted',
};

/** The sums take longer than the first lines where all was asked for, so they come by themselves. */
function Sums({ at, placeId }: { readonly at: string; readonly placeId: string }) {
  const totals = useQuery(asOfTotalsQuery(at, placeId));
  return (
    <Section title="In all" aside={totals.data === undefined ? undefined : sayPlaces(totals.data)}>
      {totals.isPending && <Waiting>Adding it up …</Waiting>}
      {totals.isError && (
        <Failure
          error={totals.error}
          word="Not added up"
          choices={<Button onPress={() => void totals.refetch()}>Try again</Button>}
        />
      )}
      {totals.data !== undefined &&
        (totals.data.sums.length === 0 ? (
          <p className="quiet">Nothing.</p>
        ) : (
          <Table
            caption="In all"
            columns={SUMS}
            rows={totals.data.sums}
            rowKey={(sum) => `${sum.isCustomers} ${sum.kind} ${sum.unitOfMeasure}`}
          />
        ))}
    </Section>
  );
}

function sayPlaces({ places }: AsOfTotals): string {
  return places === 1 ? 'in 1 place' : `in ${places} places`;
}

function sayMoment(at: string): string {
  const instant = new Date(at);
  const two = (part: number) => String(part).padStart(2, '0');
  return `${sayDay(dayOf(instant))} at ${two(instant.getHours())}.${two(instant.getMinutes())}`;
}

function withUnit(quantity: string, unit: AsOfLine['unitOfMeasure']): string {
  return unit === 'each' ? quantity : `${quantity} ${unit}`;
}
