import type { ToBuy, ToBuyRow } from '@corewright/contracts/consumables';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useKeepsBooks } from '../../../api/session.js';
import { newKey } from '../../../api/uuid.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { ComboField } from '../../../ui/ComboField.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { QuantityField } from '../../../ui/QuantityField.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { sayDay } from '../../../ui/say-when.js';
import { TextField } from '../../../ui/TextField.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import { findFirms } from '../../goods-in/queries.js';
import { ConsumablesCaution } from './ConsumablesCaution.js';
import { useOrderOfPart } from './consumable-actions.js';
import { toBuyQuery } from './consumable-queries.js';
import styles from './ToBuy.module.css';

/** What is below its minimum, firm by firm: on a phone, or on paper to take along. */
export function ToBuyScreen() {
  const list = useQuery(toBuyQuery);
  return (
    <>
      <PageHead
        title="List to buy"
        note="Parts of which fewer are here and on order than their minimum. What is ordered for a job is not counted."
        acts={
          <Acts>
            <Button look="main" onPress={() => print()}>
              Print it
            </Button>
            <ButtonLink href="/stores/consumables">Consumables</ButtonLink>
          </Acts>
        }
      />
      {list.isPending && <Waiting>Counting what is here …</Waiting>}
      {list.isError && (
        <Failure error={list.error} word="Not shown" choices={<Button onPress={() => void list.refetch()}>Try again</Button>} />
      )}
      {list.data !== undefined && <List list={list.data} />}
    </>
  );
}

function List({ list }: { readonly list: ToBuy }) {
  const hasContainers =
    list.pastUseBy.length > 0 || list.suppliers.some(({ rows }) => rows.some(({ container }) => container !== null));
  return (
    <>
      {list.suppliers.length === 0 && (
        <Empty title={list.watched === 0 ? 'No part has a minimum yet' : 'Nothing to buy'}>
          {list.watched === 0
            ? 'Set a minimum on the page of a part: seals, shims, lock tabs, sealant, marking compound. What falls below it stands here.'
            : `Of ${list.watched === 1 ? 'the part that has a minimum' : `all ${list.watched} parts that have a minimum`} enough is here or on order.`}
        </Empty>
      )}
      {list.suppliers.map(({ supplier, rows }) => (
        <Section
          key={supplier?.id ?? 'none'}
          title={supplier?.name ?? 'No supplier known'}
          aside={`${rows.length === 1 ? '1 part' : `${rows.length} parts`}, ${sayDay(list.on)}`}
        >
          <ul className={styles.rows}>
            {rows.map((row) => (
              <Row key={row.part.id} row={row} supplierName={supplier?.name ?? ''} />
            ))}
          </ul>
        </Section>
      ))}
      {list.pastUseBy.length > 0 && <PastUseBy list={list} />}
      {hasContainers && <ConsumablesCaution />}
    </>
  );
}

function Row({ row, supplierName }: { readonly row: ToBuyRow; readonly supplierName: string }) {
  const { which, open, close } = useOneForm<'order'>();
  const mayOrder = useKeepsBooks();
  const unit = row.container ?? (row.part.unitOfMeasure === 'each' ? '' : row.part.unitOfMeasure);
  return (
    <li className={styles.row}>
      <span className={styles.tick} aria-hidden="true" />
      <span className={styles.many}>
        {row.buy} <small>{unit}</small>
      </span>
      <span className={styles.what}>
        <Go href={`/stores/parts/${row.part.id}`}>
          <b>{row.part.name}</b>
        </Go>{' '}
        {row.part.number !== '' && <span className="pn">{row.part.number}</span>}
        <span className={styles.notes}>{sayStanding(row)}</span>
        {row.note !== '' && <span className={styles.notes}>{row.note}</span>}
      </span>
      {mayOrder && which === null && (
        <span className={styles.act}>
          <Button label={`It is ordered: ${row.part.name}`} onPress={() => open('order')}>
            It is ordered
          </Button>
        </span>
      )}
      {which !== null && (
        <div className={styles.form}>
          <OrderForm row={row} supplierName={supplierName} onClose={close} />
        </div>
      )}
    </li>
  );
}

function sayStanding({ have, onOrder, minimum, upTo, open, pastUseBy, container }: ToBuyRow): string {
  return [
    `${have} ${container === null ? 'free' : 'full'}`,
    onOrder === '0' ? null : `${onOrder} on order`,
    open === 0 ? null : `${open} open`,
    pastUseBy === 0 ? null : `${pastUseBy} past use-by`,
    `minimum ${minimum}, up to ${upTo}`,
  ]
    .filter((words) => words !== null)
    .join('; ');
}

interface OrderFormProps {
  readonly row: ToBuyRow;
  readonly supplierName: string;
  readonly onClose: () => void;
}

/** Writes down what was ordered; it counts from then on, and is booked in when it comes. */
function OrderForm({ row, supplierName, onClose }: OrderFormProps) {
  const [keyed, setKeyed] = useState({ orderReference: '', supplierName, quantity: row.buy, dueOn: '' });
  const [id] = useState(newKey);
  const [wasTried, setWasTried] = useState(false);
  const ordering = useOrderOfPart(onClose);
  const isWhole = keyed.orderReference.trim() !== '' && keyed.supplierName.trim() !== '' && keyed.quantity.trim() !== '';
  const submit = () => {
    setWasTried(true);
    if (isWhole && !ordering.isPending)
      ordering.mutate({ ...keyed, id, partId: row.part.id, dueOn: keyed.dueOn === '' ? null : keyed.dueOn });
  };
  const missing = (text: string) => (wasTried && text.trim() === '' ? 'This cannot be left empty.' : null);
  return (
    <Form label={`What was ordered of ${row.part.name}`} onSubmit={submit}>
      <FieldPair>
        <TextField
          label="Order reference"
          value={keyed.orderReference}
          onChange={(orderReference) => setKeyed({ ...keyed, orderReference })}
          error={missing(keyed.orderReference)}
          maxLength={200}
        />
        <ComboField
          label="Ordered from"
          text={keyed.supplierName}
          onText={(supplierName) => setKeyed({ ...keyed, supplierName })}
          onChoose={(firm) => setKeyed({ ...keyed, supplierName: firm.label })}
          source={findFirms}
          error={missing(keyed.supplierName)}
        />
      </FieldPair>
      <FieldPair>
        <QuantityField
          label="How many"
          value={keyed.quantity}
          onChange={(quantity) => setKeyed({ ...keyed, quantity })}
          unit={row.container ?? row.part.unitOfMeasure}
          error={missing(keyed.quantity)}
        />
        <TextField
          label="Due"
          type="date"
          value={keyed.dueOn}
          onChange={(dueOn) => setKeyed({ ...keyed, dueOn })}
          note="empty where no day was said"
        />
      </FieldPair>
      <FormFoot act="Write the order down" failed="Not written down" sending={ordering} onClose={onClose} />
    </Form>
  );
}

function PastUseBy({ list }: { readonly list: ToBuy }) {
  return (
    <Section
      title="Past use-by"
      aside={list.pastUseBy.length === 1 ? '1 container or lot' : `${list.pastUseBy.length} containers or lots`}
    >
      <ul className={styles.rows}>
        {list.pastUseBy.map(({ thing, open, words }) => (
          <li key={thing.id} className={styles.past}>
            <Go href={`/stores/things/${thing.id}`}>
              <Code code={thing.code} size="row" />
            </Go>
            <span>
              <b>{thing.name}</b>, {open ? 'open' : 'full'}. {words}
            </span>
          </li>
        ))}
      </ul>
    </Section>
  );
}
