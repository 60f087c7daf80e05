import type { RelationShown } from '@corewright/contracts/relations';
import { Button } from '../../ui/Button.js';
import { Fold } from '../../ui/Fold.js';
import { dayOf, sayDay } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { useOneForm } from '../../ui/use-one-form.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { useWithdrawRelation } from './actions.js';
import styles from './PartRelations.module.css';

export interface RelationsOnRecordProps {
  readonly relations: readonly RelationShown[];
  readonly mayWithdraw: boolean;
}

/** Every relation of a part as it was accepted, the withdrawn with their reason; and where a wrong one is taken back. */
export function RelationsOnRecord({ relations, mayWithdraw }: RelationsOnRecordProps) {
  const { which: leaving, open, close } = useOneForm<RelationShown>();
  const columns: readonly Column<RelationShown>[] = [
    { key: 'words', head: 'relation', isLead: true, width: '30%', cell: (relation) => <Said relation={relation} /> },
    {
      key: 'evidence',
      head: 'evidence',
      isWide: true,
      cell: (relation) => `${relation.evidence.kind}: ${relation.evidence.words}`,
    },
    { key: 'conditions', head: 'conditions', isWide: true, cell: (relation) => relation.conditions },
    { key: 'accepted', head: 'accepted by', cell: (relation) => `${relation.acceptedBy}, ${sayDay(dayOf(relation.acceptedAt))}` },
    {
      key: 'state',
      head: 'stands',
      width: '20%',
      cell: (relation) =>
        relation.withdrawn === null
          ? mayWithdraw && <WithdrawButton relation={relation} onPress={() => open(relation)} />
          : wordsOf(relation.withdrawn),
    },
  ];
  const live = relations.filter((relation) => relation.withdrawn === null).length;
  return (
    <>
      <Fold summary={`On the record: ${live} that ${live === 1 ? 'stands' : 'stand'}, ${relations.length - live} withdrawn`}>
        <Table caption="Relations of this part" columns={columns} rows={relations} rowKey={(relation) => relation.id} />
      </Fold>
      {leaving !== null && <WithdrawForm key={leaving.id} relation={leaving} onClose={close} />}
    </>
  );
}

/** What it says, and where two that are called the same are known to differ. */
function Said({ relation }: { readonly relation: RelationShown }) {
  return (
    <div className={styles.steps}>
      <span>{relation.words}</span>
      {relation.doubt !== '' && (
        <span className={styles.doubt}>
          <b>They differ.</b> {relation.doubt}
        </span>
      )}
    </div>
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
  const change = useWithdrawRelation(relation.id, onClose);
  return (
    <div className={styles.withdraw}>
      <WhyForm
        label="Withdraw a relation"
        question="Why it is withdrawn"
        note="it stays on the record with your name, and so does the relation"
        act="Withdraw it"
        failed="Not withdrawn"
        sending={change}
        onWhy={(why) => change.mutate(why)}
        onClose={onClose}
      >
        <p>
          {relation.words} {relation.isKit && 'The kit is withdrawn as a whole.'}
        </p>
      </WhyForm>
    </div>
  );
}

function wordsOf(withdrawn: NonNullable<RelationShown['withdrawn']>): string {
  return `withdrawn by ${withdrawn.by}, ${sayDay(dayOf(withdrawn.at))}: ${withdrawn.why}`;
}
