import type { FindingWord } from '@corewright/contracts/cores';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { Acts, Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Fold } from '../../ui/Fold.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { type Column, Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { findingWordsQuery } from '../bench/strip-down/queries.js';
import { usePutFindingWord } from './actions.js';

/** The words with which a strip-down says what was seen. */
export function FindingWordsSection() {
  const found = useQuery(findingWordsQuery);
  const [edited, setEdited] = useState<FindingWord | 'new' | null>(null);
  const put = usePutFindingWord();
  const offer = ({ id, version, word, retired }: FindingWord) =>
    put.mutate({ id, version, findingWord: { word, retired: !retired } });
  const columns: readonly Column<FindingWord>[] = [
    { key: 'word', head: 'Word', isLead: true, cell: ({ word }) => <b>{word}</b> },
    { key: 'state', head: 'State', cell: ({ retired }) => (retired ? 'no longer offered' : 'offered') },
    {
      key: 'acts',
      head: 'Acts',
      cell: (each) => (
        <Acts>
          <Button look="plain" label={`Change ${each.word}`} onPress={() => setEdited(each)}>
            Change
          </Button>
          <Button
            look="plain"
            label={`${each.retired ? 'Offer it again' : 'No longer offer it'}: ${each.word}`}
            onPress={() => offer(each)}
          >
            {each.retired ? 'Offer it again' : 'No longer offer it'}
          </Button>
        </Acts>
      ),
    },
  ];
  return (
    <Section title="What was seen at a strip-down">
      {found.isPending && <Waiting>The words are being fetched.</Waiting>}
      {found.error !== null && found.data === undefined && <Failure word="Not shown" error={found.error} />}
      {found.data !== undefined && (
        <>
          <p className="quiet">
            Offered on the bench for each component. What was recorded with a word keeps it, whatever is done here.
          </p>
          <Fold summary={sayOffered(found.data.words)}>
            <Table caption="Words for findings" columns={columns} rows={found.data.words} rowKey={({ id }) => id} />
          </Fold>
        </>
      )}
      {put.error !== null && edited === null && <Failure word="Not kept" error={put.error} />}
      {edited === null ? (
        <Acts>
          <Button onPress={() => setEdited('new')}>Add a word</Button>
        </Acts>
      ) : (
        <WordForm
          key={edited === 'new' ? 'new' : edited.id}
          word={edited === 'new' ? null : edited}
          onDone={() => setEdited(null)}
        />
      )}
    </Section>
  );
}

function sayOffered(words: readonly FindingWord[]): string {
  const offered = words.filter(({ retired }) => !retired).map(({ word }) => word);
  return `${offered.length} words: ${offered.join(', ')}`;
}

function WordForm({ word, onDone }: { readonly word: FindingWord | null; readonly onDone: () => void }) {
  const [id] = useState(() => word?.id ?? newKey());
  const [keyed, setKeyed] = useState(word?.word ?? '');
  const [wasTried, setWasTried] = useState(false);
  const put = usePutFindingWord();
  const keep = () => {
    setWasTried(true);
    if (keyed.trim() === '' || put.isPending) return;
    const findingWord = { word: keyed, retired: word?.retired ?? false };
    put.mutate({ id, version: word?.version ?? null, findingWord }, { onSuccess: onDone });
  };
  return (
    <Form label={word === null ? 'A new word' : `Change ${word.word}`} onSubmit={keep}>
      <TextField
        label="Word"
        value={keyed}
        onChange={setKeyed}
        error={wasTried && keyed.trim() === '' ? 'Key the word.' : null}
        autoFocus
        maxLength={40}
      />
      {put.error !== null && <Failure word="Not kept" error={put.error} kept="What you keyed is kept." />}
      <Acts>
        <Button look="main" type="submit" isPending={put.isPending}>
          Keep it
        </Button>
        <Button look="plain" onPress={onDone}>
          Leave it
        </Button>
      </Acts>
    </Form>
  );
}
