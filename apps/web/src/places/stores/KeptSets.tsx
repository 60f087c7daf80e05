import type { KeptSet } from '@corewright/contracts/kept-sets';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useWorksWithThings } from '../../api/session.js';
import { Acts, Button } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Form } from '../../ui/Form.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { sayInstant } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { useBreakSet } from './actions.js';
import { keptSetsQuery } from './queries.js';
import styles from './ThingScreen.module.css';

/** The set that a part stays together with, or what is left of one. Nothing is shown of what belongs to none. */
export function KeptSets({ thingId }: { readonly thingId: string }) {
  const sets = useQuery(keptSetsQuery(thingId)).data?.sets ?? [];
  return (
    <>
      {sets.map((set) => (
        <OneSet key={set.id} set={set} />
      ))}
    </>
  );
}

const MEMBERS: readonly Column<KeptSet['members'][number]>[] = [
  {
    key: 'part',
    head: 'part',
    isLead: true,
    cell: ({ thing }) => (
      <Go href={`/stores/things/${thing.id}`}>
        <Code code={thing.code} /> {thing.name}
      </Go>
    ),
  },
  { key: 'stamped', head: 'stamped', cell: ({ stamped }) => (stamped === '' ? 'not read' : stamped) },
  { key: 'bound', head: 'state', cell: ({ bound }) => (bound ? 'bound' : 'odd') },
  { key: 'where', head: 'where', isWide: true, cell: ({ where }) => where },
];

function OneSet({ set }: { readonly set: KeptSet }) {
  const [isBreaking, setBreaking] = useState(false);
  const mayBreak = useWorksWithThings() && set.broken === null;
  const number = set.number === '' ? '' : `, set ${set.number}`;
  return (
    <Section title={`${set.broken === null ? 'Kept together' : 'Odd'}: ${set.words}${number}`} aside={asideOf(set)}>
      {set.broken !== null && (
        <p>
          Broken {sayInstant(set.broken.at, new Date())} on the word of {set.broken.onWordOf}: {set.broken.why}
        </p>
      )}
      {set.mismatchReason !== '' && (
        <p>
          The numbers differ. {set.boundBy}: {set.mismatchReason}
        </p>
      )}
      <Table caption={`Parts of ${set.words}${number}`} columns={MEMBERS} rows={set.members} rowKey={({ thing }) => thing.id} />
      {mayBreak && !isBreaking && (
        <Acts>
          <Button look="grave" onPress={() => setBreaking(true)}>
            Break the set
          </Button>
        </Acts>
      )}
      {isBreaking && <BreakForm set={set} onClose={() => setBreaking(false)} />}
    </Section>
  );
}

function asideOf({ broken, job }: KeptSet): string {
  if (broken !== null) return 'what is left is found by its set number';
  return job === null ? 'for one job only' : `for ${job.name}`;
}

function BreakForm({ set, onClose }: { readonly set: KeptSet; readonly onClose: () => void }) {
  const [said, setSaid] = useState({ onWordOf: '', why: '' });
  const [wasTried, setWasTried] = useState(false);
  const breaking = useBreakSet(set.id, onClose);
  const lacks = (text: string, ask: string) => (wasTried && text.trim() === '' ? ask : null);
  const submit = () => {
    setWasTried(true);
    if (said.onWordOf.trim() !== '' && said.why.trim() !== '' && !breaking.isPending) breaking.mutate(said);
  };
  return (
    <div className={styles.hold}>
      <Form label="Break the set" onSubmit={submit}>
        <TextField
          label="On whose word"
          value={said.onWordOf}
          onChange={(onWordOf) => setSaid({ ...said, onWordOf })}
          error={lacks(said.onWordOf, 'Say who has decided it.')}
          autoFocus
          maxLength={200}
        />
        <TextField
          label="Why it is broken"
          value={said.why}
          onChange={(why) => setSaid({ ...said, why })}
          note="it stays on the record; what is left is odd, and found by its set number"
          error={lacks(said.why, 'Say why.')}
          maxLength={200}
        />
        {breaking.error !== null && <Failure error={breaking.error} word="Not broken" kept="What you keyed is kept." />}
        <Acts>
          <Button look="grave" type="submit" isPending={breaking.isPending}>
            Break it
          </Button>
          <Button look="plain" onPress={onClose}>
            Leave it
          </Button>
        </Acts>
      </Form>
    </div>
  );
}
