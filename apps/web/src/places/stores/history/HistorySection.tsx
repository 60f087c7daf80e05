import type { HistoryEntry } from '@corewright/contracts/history';
import { useInfiniteQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Button } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Waiting } from '../../../ui/Empty.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { SelectField } from '../../../ui/SelectField.js';
import { sayInstant } from '../../../ui/say-when.js';
import { Timeline } from '../../../ui/Timeline.js';
import { type HistorySubject, historyQuery } from './queries.js';

const TITLES: Readonly<Record<HistorySubject, string>> = {
  thing: 'Where it has been, and what was done',
  part: 'History of all its lots',
  place: 'What came and what went',
};
const NOTHING: Readonly<Record<HistorySubject, string>> = {
  thing: 'Nothing is on record of it yet.',
  part: 'Nothing is on record of it yet: no lot of it has come in.',
  place: 'Nothing has come here yet.',
};

interface HistorySectionProps {
  readonly of: HistorySubject;
  readonly id: string;
}

/** Everything that is on record, newest first; of one kind only, where that is chosen. */
export function HistorySection({ of, id }: HistorySectionProps) {
  const [kind, setKind] = useState('');
  const history = useInfiniteQuery(historyQuery(of, id, kind));
  const entries = history.data?.pages.flatMap((page) => page.entries) ?? [];
  const kinds = history.data?.pages[0]?.kinds ?? [];
  return (
    <Section title={TITLES[of]} aside="newest first">
      {(kinds.length > 1 || kind !== '') && (
        <SelectField
          label="Show"
          value={kind}
          onChange={setKind}
          choices={[{ value: '', label: 'Everything' }, ...kinds.map((each) => ({ value: each.kind, label: each.words }))]}
        />
      )}
      {history.isPending && <Waiting>Fetching its history …</Waiting>}
      {history.isError && entries.length === 0 && (
        <Failure
          error={history.error}
          word="Not shown"
          choices={<Button onPress={() => void history.refetch()}>Try again</Button>}
        />
      )}
      {history.isSuccess && entries.length === 0 && (
        <p className="quiet">{kind === '' ? NOTHING[of] : 'Nothing of this kind is on record.'}</p>
      )}
      <Timeline
        label={TITLES[of]}
        entries={entries.map((entry) => ({
          id: `${entry.kind} ${entry.id} ${entry.at}`,
          when: sayInstant(entry.doneAt, new Date()),
          isReversed: entry.isTakenBack,
          words: <EntryWords entry={entry} />,
        }))}
      />
      {history.isFetchNextPageError && (
        <Failure word="Not shown" error={history.error} kept="What was fetched before stands above." />
      )}
      {history.hasNextPage && (
        <Button onPress={() => void history.fetchNextPage()} isPending={history.isFetchingNextPage}>
          {history.isFetchNextPageError ? 'Try again' : 'Show older ones'}
        </Button>
      )}
    </Section>
  );
}

function EntryWords({ entry }: { readonly entry: HistoryEntry }) {
  const { thing } = entry;
  const small = [entry.detail, entry.by].filter((words) => words !== '').join(', ');
  return (
    <>
      {thing !== null && (
        <>
          <Go href={`/stores/things/${thing.id}`}>
            {thing.code !== null && <Code code={thing.code} />} {thing.name}
          </Go>
          {': '}
        </>
      )}
      {entry.title} <span className="quiet">{small}</span>
    </>
  );
}
