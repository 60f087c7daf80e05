import type { Successor } from '@corewright/contracts/relations';
import type { SearchHit } from '@corewright/contracts/stores';
import { useInfiniteQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { useKeepsBooks, useWorksWithThings } from '../../api/session.js';
import { Button, ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead, Section } from '../../ui/Section.js';
import { sayInstant } from '../../ui/say-when.js';
import { TextField } from '../../ui/TextField.js';
import { VirtualList } from '../../ui/VirtualList.js';
import { CallItThat } from './CallItThat.js';
import { hrefOfHit } from './hrefs.js';
import { OpeningGaps } from './opening/OpeningGaps.js';
import { PlaceTree } from './place/PlaceTree.js';
import { searchQuery } from './queries.js';
import styles from './StoresScreen.module.css';
import { StoresWays } from './StoresWays.js';

export interface StoresScreenProps {
  /** What is searched for, as in the address. */
  readonly q: string;
  readonly onSearch: (q: string) => void;
}

/** How long the keys must rest before the search goes out, in milliseconds. */
const REST_MS = 200;

/** Stores: where is it, how many, how good? One search over everything that has a name, a number or a code. */
export function StoresScreen({ q, onSearch }: StoresScreenProps) {
  const [typed, setTyped] = useState(q);
  useEffect(() => setTyped((before) => (before.trim() === q ? before : q)), [q]);
  useEffect(() => {
    if (typed.trim() === q) return;
    const timer = setTimeout(() => onSearch(typed.trim()), REST_MS);
    return () => clearTimeout(timer);
  }, [typed, q, onSearch]);
  return (
    <>
      <PageHead title="Stores" note="Part numbers however keyed, names, nicknames, marks, places, codes." />
      <search>
        <TextField
          label="Look for"
          type="search"
          value={typed}
          onChange={setTyped}
          note="48-2217, 48 2217 and 482217 are one number; “big seal” finds by nickname"
          autoFocus
        />
      </search>
      {q === '' && <StoresWays />}
      <OpeningGaps />
      {q === '' ? <PlaceTree /> : <Hits q={q} />}
    </>
  );
}

function Hits({ q }: { readonly q: string }) {
  const mayAdd = useKeepsBooks();
  const mayName = useWorksWithThings();
  const [isNaming, setNaming] = useState(false);
  useEffect(() => setNaming(false), [q]);
  const search = useInfiniteQuery(searchQuery(q));
  const hits = search.data?.pages.flatMap((page) => page.hits) ?? [];
  if (search.isPending) return <Waiting>Looking for “{q}” …</Waiting>;
  if (search.isError && hits.length === 0)
    return (
      <Failure
        error={search.error}
        word="Not found out"
        choices={<Button onPress={() => void search.refetch()}>Try again</Button>}
      />
    );
  if (hits.length === 0) {
    return (
      <div className={styles.empty}>
        <Empty
          title={`Nothing by “${q}”`}
          choices={
            <>
              <ButtonLink href="/goods-in">To Goods-in</ButtonLink>
              {mayName && q.length <= 60 && !isNaming && (
                <Button onPress={() => setNaming(true)}>It has another name in the books</Button>
              )}
              <ButtonLink href="/stores/opening">It lies on a shelf of ours</ButtonLink>
              {mayAdd && (
                <ButtonLink href={`/stores/new-part?${new URLSearchParams({ number: q })}`}>
                  Write it down as a new part
                </ButtonLink>
              )}
            </>
          }
        >
          Nothing in the books has this number, name, nickname, mark or code. Try fewer figures, or a word of its name; what has
          come in and is in no book yet is keyed in Goods-in.
        </Empty>
        {isNaming && <CallItThat words={q} onClose={() => setNaming(false)} />}
      </div>
    );
  }
  return (
    <Section title="Found" aside={`${hits.length}${search.hasNextPage ? ' and more' : ''}, the nearest first`}>
      <VirtualList label={`Found for ${q}`} items={hits} itemKey={(hit) => hit.id} estimate={56}>
        {(hit) => (
          <>
            <Hit hit={hit} />
            {hit.successor !== null && <Became successor={hit.successor} />}
          </>
        )}
      </VirtualList>
      {search.isFetchNextPageError && (
        <Failure word="Not found out" error={search.error} kept="What was found before stands above." />
      )}
      {search.hasNextPage && (
        <Button onPress={() => void search.fetchNextPage()} isPending={search.isFetchingNextPage}>
          {search.isFetchNextPageError ? 'Try again' : 'Show more'}
        </Button>
      )}
    </Section>
  );
}

const KIND_WORDS: Readonly<Record<SearchHit['kind'], string>> = {
  part: 'part',
  unit: 'unit',
  lot: 'lot',
  component: 'component',
  unsorted: 'unsorted',
  place: 'place',
  job: 'job',
};

function Hit({ hit }: { readonly hit: SearchHit }) {
  return (
    <Go className={styles.hit} href={hrefOfHit(hit)}>
      <span className={styles.code}>
        {hit.code === null ? <span className="quiet">{KIND_WORDS[hit.kind]}</span> : <Code code={hit.code} size="row" />}
      </span>
      <span>
        <b className={styles.name}>{hit.name}</b> <span className="quiet">{hit.detail}</span>
        {hit.exact && <span className={styles.exact}> exactly this</span>}
      </span>
      <span className={styles.where}>
        {hit.where}
        {hit.lastMoved !== null && <LastMoved moved={hit.lastMoved} />}
      </span>
      <span className={styles.quantity}>{hit.quantity}</span>
    </Go>
  );
}

/** When it was last in somebody's hand: whoever has to look for it asks that person first. */
function LastMoved({ moved }: { readonly moved: NonNullable<SearchHit['lastMoved']> }) {
  return (
    <span className={styles.moved}>
      last moved {sayInstant(moved.at, new Date())}
      {moved.by !== '' && ` by ${moved.by}`}
    </span>
  );
}

/** What the number that was found became, and the way to what is current. */
function Became({ successor }: { readonly successor: Successor }) {
  return (
    <p className={styles.became}>
      <span>{successor.words}</span>
      {successor.current.map((part) => (
        <Go key={part.id} href={`/stores/parts/${part.id}`}>
          Now {part.number}, {part.name}
        </Go>
      ))}
    </p>
  );
}
