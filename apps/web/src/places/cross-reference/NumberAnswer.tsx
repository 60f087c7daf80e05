import type { PartHit, PartMatch } from '@corewright/contracts/catalogue';
import { useInfiniteQuery } from '@tanstack/react-query';
import { useEffect } from 'react';
import { useKeepsBooks } from '../../api/session.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { type Column, Table } from '../../ui/Table.js';
import styles from './NumberAnswer.module.css';
import { type NumberAsked, numberQuery } from './number-queries.js';

const groups: readonly { title: string; matches: readonly PartMatch[] }[] = [
  { title: 'This number', matches: ['itself', 'but for zeros or maker'] },
  { title: 'Numbers that begin so', matches: ['begins'] },
  { title: 'Numbers that hold it', matches: ['holds'] },
  { title: 'Named so', matches: ['words'] },
  { title: 'Nothing is numbered so. Like it:', matches: ['one error', 'alike'] },
];

/** What was found, the nearest first, each kind of nearness under its own heading. */
export function NumberAnswer({ asked }: { readonly asked: NumberAsked }) {
  const found = useInfiniteQuery(numberQuery(asked));
  const parts = found.data?.pages.flatMap((page) => page.parts) ?? [];
  const mayAdd = useKeepsBooks();
  const { hasNextPage, fetchNextPage, isFetchNextPageError } = found;
  const isItselfAlone = parts.length > 0 && parts.every((part) => part.match === 'itself');
  // the number itself is answered at once, and what is like it follows
  useEffect(() => {
    if (isItselfAlone && hasNextPage && !isFetchNextPageError) void fetchNextPage();
  }, [isItselfAlone, hasNextPage, isFetchNextPageError, fetchNextPage]);
  if (found.isPending) return <Waiting>Looking for {asked.number} …</Waiting>;
  if (found.data === undefined) return <Failure word="Not found out" error={found.error} />;
  if (parts.length === 0 && !found.hasNextPage)
    return (
      <Empty
        title={`Nothing like ${asked.number}`}
        choices={
          <>
            <ButtonLink href="/cross-reference/measured">By measurement</ButtonLink>
            {mayAdd && (
              <ButtonLink href={`/stores/new-part?${new URLSearchParams({ number: asked.number })}`}>
                Write it down as a new part
              </ButtonLink>
            )}
          </>
        }
      >
        No part in the books has this number or one like it{asked.makerId === '' ? '' : ', of this maker'}. Try a piece of it that
        is sure; a bearing is also found by its measures.
      </Empty>
    );
  return (
    <>
      {groups.map(({ title, matches }) => (
        <Group key={title} title={title} parts={parts.filter((part) => matches.includes(part.match))} />
      ))}
      {found.data.pages.some((page) => !page.complete) && (
        <p role="status">So many have it that only the first of them were looked at. Key more of the number.</p>
      )}
      {isFetchNextPageError && <Failure word="Not found out" error={found.error} kept="What was found before stands above." />}
      {hasNextPage && (
        <Acts>
          <Button onPress={() => void fetchNextPage()} isPending={found.isFetchingNextPage}>
            {isFetchNextPageError ? 'Try again' : 'Look further'}
          </Button>
        </Acts>
      )}
    </>
  );
}

function Group({ title, parts }: { readonly title: string; readonly parts: readonly PartHit[] }) {
  if (parts.length === 0) return null;
  return (
    <Section title={title} aside={String(parts.length)}>
      <Table caption={title} rows={parts} rowKey={(part) => part.id} columns={columns} />
    </Section>
  );
}

const columns: readonly Column<PartHit>[] = [
  { key: 'number', head: 'number', isLead: true, width: '24%', cell: (part) => <Numbered part={part} /> },
  { key: 'name', head: 'what it is', cell: ({ name }) => name },
  { key: 'became', head: 'what it became', width: '28%', cell: (part) => <Became part={part} /> },
  { key: 'stores', head: 'in stores', width: '22%', cell: (part) => <Stored part={part} /> },
];

/** The number that it was found by, with its maker; and the one that it goes by, where that is another. */
function Numbered({ part }: { readonly part: PartHit }) {
  const [number, maker] = part.matchedNumber === null ? [part.number, part.maker] : [part.matchedNumber, part.matchedMaker ?? ''];
  const isMain = number === part.number && maker === part.maker;
  return (
    <>
      <Go className={styles.number} href={`/stores/parts/${part.id}`}>
        {[number, maker].filter((words) => words !== '').join(', ')}
      </Go>
      {!isMain && (
        <span className={styles.note}>goes by {[part.number, part.maker].filter((words) => words !== '').join(', ')}</span>
      )}
      {part.match === 'but for zeros or maker' && <span className={styles.note}>the same but for zeros, or for its maker</span>}
      {part.match === 'one error' && <span className={styles.note}>one character otherwise</span>}
    </>
  );
}

function Became({ part: { successor } }: { readonly part: PartHit }) {
  if (successor === null) return <span className="quiet">nothing else, as far as is known</span>;
  return (
    <>
      <span className={styles.words}>{successor.words}</span>
      {successor.current.map((part) => (
        <Go key={part.id} className={styles.number} href={`/stores/parts/${part.id}`}>
          Now {part.number}, {part.name}
        </Go>
      ))}
    </>
  );
}

function Stored({ part: { free, places, unitOfMeasure } }: { readonly part: PartHit }) {
  if (free === '0' && places === '') return <span className="quiet">none</span>;
  const quantity = unitOfMeasure === 'each' ? free : `${free} ${unitOfMeasure}`;
  return (
    <>
      <b>{free === '0' ? 'none free' : `${quantity} free`}</b>
      {places !== '' && <span className={styles.note}>{places}</span>}
    </>
  );
}
