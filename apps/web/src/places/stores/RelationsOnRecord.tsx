import type { RelationShown } from '@corewright/contracts/relations';
import { useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { Fold } from '../../ui/Fold.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { dayOf, sayDay } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { useWithdrawRelation } from './actions.js';
import styles from './PartRelations.module.css';

export interface RelationsOnRecordProps {
  readonly relations: readonly RelationShown[];
  readonly mayWithdraw: boolean;
}

/** Every relation of a part as it was accepted, the withdrawn with their reason; and where a wrong one is taken back. */
export function RelationsOnRecord({ relations, mayWithdraw }: RelationsOnRecordProps) {
  const [leaving, setLeaving] = useState<RelationShown | null>(null);
  const columns: readonly Column<RelationShown>[] = [
    { key: 'words', head: 'relation', isLead: true, width: '30%', cell: (relation) => relation.words },
    { key: 'evidence', head: 'evidence', cell: (relation) => `${relation.evidence.kind}: ${relation.evidence.words}` },
    { key: 'conditions', head: 'conditions', cell: (relation) => relation.conditions },
    { key: 'accepted', head: 'accepted by', cell: (relation) => `${relation.acceptedBy}, ${sayDay(dayOf(relation.acceptedAt))}` },
    {
      key: 'state',
      head: 'stands',
      width: '20%',
      cell: (relation) =>
        relation.withdrawn === null
          ? mayWithdraw && <WithdrawButton relation={relation} onPress={() => setLeaving(relation)} />
          : wordsOf(relation.withdrawn),
    },
  ];
  const live = relations.filter((relation) => relation.withdrawn === null).length;
  return (
    <>
      <Fold summary={`On the record: ${live} that ${live === 1 ? 'stands' : 'stand'}, ${relations.length - live} withdrawn`}>
        <Table caption="Relations of this part" columns={columns} rows={relations} rowKey={(relation) => relation.id} />
      </Fold>
      {leaving !== null && <WithdrawForm key={leaving.id} relation={leaving} onClose={() => setLeaving(null)} />}
    </>
  );
}

function WithdrawButton({ relation, onPress }: { readonly relation: RelationShown; readonly onPress: () => void }) {
  return (
    <Button onPress={onPress}>
      Withdraw<span className="hidden">: {relation.words}</span>
    </Button>
  );
}

function WithdrawForm({ relation, onClose }: { readonly relation: RelationShown; readonly onClose: () => void }) {
  const [why, setWhy] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const change = useWithdrawRelation(relation.id, onClose);
  const submit = () => {
    setWasTried(true);
    if (why.trim() !== '' && !change.isPending) change.mutate(why);
  };
  return (
    <div className={styles.withdraw}>
      <Form label="Withdraw a relation" onSubmit={submit}>
        <p>
          {relation.words} {relation.isKit && 'The kit is withdrawn as a whole.'}
        </p>
        <TextField
          label="Why it is withdrawn"
          value={why}
          onChange={setWhy}
          note="it stays on the record with your name, and so does the relation"
          error={wasTried && why.trim() === '' ? 'Say why.' : null}
          autoFocus
          maxLength={200}
        />
        {change.isError && <Failure error={change.error} word="Not withdrawn" kept="What you keyed is kept." />}
        <Acts>
          <Button look="main" type="submit" isPending={change.isPending}>
            Withdraw it
          </Button>
          <Button look="plain" onPress={onClose}>
            Leave it
          </Button>
        </Acts>
      </Form>
    </div>
  );
}

function wordsOf(withdrawn: NonNullable<RelationShown['withdrawn']>): string {
  return `withdrawn by ${withdrawn.by}, ${sayDay(dayOf(withdrawn.at))}: ${withdrawn.why}`;
}
