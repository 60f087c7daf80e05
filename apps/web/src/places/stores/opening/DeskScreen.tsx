import type { AtDesk, DeskRow, NextAtDesk } from '@corewright/contracts/opening-stock';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type * as z from 'zod';
import { useChoiceTaker } from '../../../scan/scanning.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead } from '../../../ui/Section.js';
import { sayMoney } from '../../../ui/say-money.js';
import { sayInstant } from '../../../ui/say-when.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { DeskPhotographs } from './DeskPhotographs.js';
import { askAround, scrapRow, takeNext } from './desk-actions.js';
import { NamingForm } from './NamingForm.js';
import { type Habits, noHabits } from './naming-keyed.js';
import styles from './Opening.module.css';
import { SplitForm } from './SplitForm.js';

/** What was keyed at the shelves, one after the other with its photograph: named and costed by someone who knows, with keys alone. */
export function DeskScreen() {
  const client = useQueryClient();
  const [said, say] = useState('');
  const taking = useMutation({ mutationFn: (asked: z.input<typeof NextAtDesk>) => takeNext(asked) });
  const { mutate } = taking;
  useEffect(() => mutate({}), [mutate]);
  const at: AtDesk | undefined = taking.data;
  const inHand = useRef<string | null>(null);
  useEffect(() => {
    inHand.current = at?.row?.id ?? null;
  });
  // an answer that comes when another row is in hand is heard, and leaves that one where it is
  const goFrom = (row: DeskRow, asked: z.input<typeof NextAtDesk>) => {
    if (inHand.current === row.id) mutate(asked);
  };
  const go = (words: string, from: DeskRow) => {
    say(words);
    void client.invalidateQueries({ queryKey: ['stores'] });
    goFrom(from, { after: from.id });
  };
  return (
    <>
      <PageHead
        title="Name and cost opening stock"
        note={at === undefined ? 'From the photographs.' : `From the photographs. ${at.left} left.`}
        acts={
          <Acts>
            <ButtonLink href="/stores/opening">All shelves</ButtonLink>
          </Acts>
        }
      />
      <p role="status" className={styles.said}>
        {said}
      </p>
      {taking.isError && (
        <Failure error={taking.error} word="Not taken" choices={<Button onPress={() => mutate({})}>Take the next</Button>} />
      )}
      {at === undefined && !taking.isError && <Waiting>Taking the next …</Waiting>}
      {at !== undefined && at.row === null && <NothingWaits left={at.left} />}
      {at?.row != null && (
        <InHand
          key={`${at.row.id} ${at.row.version}`}
          row={at.row}
          onDone={go}
          onAgain={(row) => goFrom(row, { rowId: row.id })}
        />
      )}
    </>
  );
}

function NothingWaits({ left }: { readonly left: number }) {
  return (
    <Empty title={left === 0 ? 'Nothing waits' : 'The rest is with others'}>
      {left === 0
        ? 'All that was keyed at the shelves is named, and somebody has said of each what it cost or that nobody knows.'
        : `${left} are in hand at another desk. What is left there comes back in a few minutes.`}
    </Empty>
  );
}

interface InHandProps {
  readonly row: DeskRow;
  readonly onDone: (words: string, from: DeskRow) => void;
  readonly onAgain: (row: DeskRow) => void;
}

type Act = 'name' | 'split' | 'scrap';
/** What stays from row to row while somebody sits here. */
let habits: Habits = noHabits;

function InHand({ row, onDone, onAgain }: InHandProps) {
  const { which: act, open, close } = useOneForm<Act>();
  const top = useRef<HTMLDivElement>(null);
  // the keys act outside every field: a new row takes the focus out of the form before
  useEffect(() => top.current?.focus(), []);
  const asking = useMutation({
    mutationFn: () => askAround(row),
    onSuccess: () => onDone(`${row.name}: left for whoever is asked around.`, row),
  });
  const scrapping = useMutation({
    mutationFn: (reason: string) => scrapRow(row, reason),
    onSuccess: () => onDone(`${row.name}: to scrap.`, row),
  });
  const choices: readonly (() => void)[] = [
    () => open('name'),
    () => (row.kind === 'lot' ? open('split') : undefined),
    () => (asking.isPending ? undefined : asking.mutate()),
    () => open('scrap'),
    () => onDone('', row),
  ];
  useChoiceTaker((choice) => {
    const chosen = act === null ? choices[choice - 1] : undefined;
    chosen?.();
    return chosen !== undefined;
  });
  return (
    <div className={styles.desk} ref={top} tabIndex={-1}>
      <DeskPhotographs pictures={row.pictures} name={row.name} />
      <div>
        <Facts row={row} />
        {act === null && (
          <Acts>
            <Button look="main" onPress={choices[0]}>
              1 Name it
            </Button>
            {row.kind === 'lot' && <Button onPress={choices[1]}>2 It is several things</Button>}
            <Button onPress={choices[2]} isPending={asking.isPending}>
              3 Nobody here knows
            </Button>
            <Button onPress={choices[3]}>4 It is junk</Button>
            <Button onPress={choices[4]}>5 Next</Button>
          </Acts>
        )}
        {asking.isError && <Failure error={asking.error} word="Not left" />}
        {act === 'name' && (
          <NamingForm
            row={row}
            habits={habits}
            onNamed={(named, keyed) => {
              habits = keyed;
              onDone(`${named.name} it is, ${named.quantity}.`, row);
            }}
            onClose={close}
          />
        )}
        {act === 'split' && <SplitForm row={row} onSplit={() => onAgain(row)} onClose={close} />}
        {act === 'scrap' && (
          <WhyForm
            label="To scrap"
            question="Why it is junk"
            note="it stays on the record with your name"
            act="Send it to scrap"
            isGrave
            failed="Not sent to scrap"
            sending={scrapping}
            onWhy={(reason) => scrapping.mutate(reason)}
            onClose={close}
          />
        )}
      </div>
    </div>
  );
}

function Facts({ row }: { readonly row: DeskRow }) {
  return (
    <div className={styles.facts}>
      <p>
        <Code code={row.code} size="row" />{' '}
        {row.splitFrom !== null && <span className="quiet">split off {row.splitFrom.name}</span>}
      </p>
      <p>
        <b>{row.kind === 'lot' && row.quantity !== '1' ? `${row.quantity} of ${row.name}` : row.name}</b>
      </p>
      <p className="quiet">
        {[
          row.place.name,
          row.canBeChanged ? '' : `now ${row.where}`,
          row.job === null ? '' : `taken onto ${row.job.name}`,
          row.marks === '' ? '' : `marks ${row.marks}`,
          row.owner === null ? '' : `property of ${row.owner.name}`,
          row.note,
          `keyed by ${row.keyedBy}, ${sayInstant(row.keyedAt, new Date())}`,
        ]
          .filter((words) => words !== '')
          .join('; ')}
      </p>
      <p>{costWords(row)}</p>
    </div>
  );
}

function costWords({ cost, costStanding, currency, owner }: DeskRow): string {
  if (owner !== null) return 'A customer’s: no cost of ours.';
  if (cost !== null) return `Cost: ${sayMoney(cost, currency)}${costStanding === 'estimate' ? ', an estimate' : ''}.`;
  return costStanding === 'unknown' ? 'Cost: nobody knows.' : 'Cost: nobody has said yet.';
}
