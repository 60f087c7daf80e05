import type { BoxPage, BoxTaking, NamedOutOfBox } from '@corewright/contracts/boxes';
import { useQuery } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import { useWorksWithThings } from '../../../api/session.js';
import { resolve } from '../../../scan/resolve.js';
import { useScanTaker } from '../../../scan/scanning.js';
import { Acts, Button } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Waiting } from '../../../ui/Empty.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { sayInstant } from '../../../ui/say-when.js';
import { type Column, Table } from '../../../ui/Table.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { useDraft } from '../../bench/use-draft.js';
import { useBlankLabels } from '../../goods-in/use-blank-labels.js';
import { PrintOnce } from '../../labels/PrintOnce.js';
import styles from './BoxSection.module.css';
import { NameOutOfBoxForm } from './NameOutOfBoxForm.js';
import { nothingKeyed } from './naming-keyed.js';
import { boxQuery, useSayEmpty, useUndoTaking } from './queries.js';

/** A box of unsorted things: what is left in it, what was taken out and named, and the acts that empty it. */
export function BoxSection({ boxId }: { readonly boxId: string }) {
  const box = useQuery(boxQuery(boxId));
  return (
    <Section title="In the box" aside={box.data === undefined ? undefined : sayLeft(box.data)}>
      {box.isPending && <Waiting>Looking into it …</Waiting>}
      {box.isError && <Failure error={box.error} word="Not shown" />}
      {box.data !== undefined && <BoxShown box={box.data} />}
    </Section>
  );
}

function sayLeft({ saidEmpty, piecesLeft, pieceCount }: BoxPage): string {
  if (saidEmpty) return 'said to be empty';
  return piecesLeft === null ? 'not counted' : `${piecesLeft} of about ${pieceCount} left`;
}

function BoxShown({ box }: { readonly box: BoxPage }) {
  const mayOpen = useWorksWithThings();
  return (
    <div className={styles.stack}>
      {mayOpen && !box.saidEmpty && <Emptying box={box} />}
      <Taken box={box} mayOpen={mayOpen} />
    </div>
  );
}

function Emptying({ box }: { readonly box: BoxPage }) {
  const { which, open, close } = useOneForm<'name' | 'empty'>();
  const [keyed, setKeyed] = useDraft(`box ${box.id}`, nothingKeyed);
  const [named, setNamed] = useState<NamedOutOfBox | null>(null);
  // a place is looked up, and what is keyed meanwhile stays
  const latest = useRef(keyed);
  useEffect(() => {
    latest.current = keyed;
  }, [keyed]);
  const begin = (more: Partial<typeof keyed.values>) => {
    open('name');
    setNamed(null);
    setKeyed({ ...latest.current, values: { ...latest.current.values, ...more } });
  };
  const blank = useBlankLabels([], (_, { kind, code }) => {
    if (kind !== 'unsorted') begin({ kind, code, count: kind === 'lot' ? keyed.values.count || '1' : '' });
  });
  // a label that is on nothing yet begins a name, and the label of a place says where it goes
  useScanTaker((parsed) => {
    if (parsed.kind === 'P' && which === 'name') {
      void resolve(parsed.code).then(
        ({ answer }) => begin({ placeId: answer.id, placeText: answer.where }),
        () => undefined,
      );
      return true;
    }
    return parsed.kind !== 'X' && blank(parsed);
  });
  return (
    <>
      {named !== null && (
        <p role="status">
          <b>{named.words}</b> <Go href={`/stores/things/${named.thing.id}`}>Its page</Go>
        </p>
      )}
      {which === 'name' && (
        <NameOutOfBoxForm
          key={named?.takingId ?? 'first'}
          box={box}
          keyed={keyed}
          onKey={setKeyed}
          onNamed={setNamed}
          onClose={close}
        />
      )}
      {which === 'empty' && <SayEmptyForm box={box} onClose={close} />}
      {which === null && (
        <Acts>
          <Button look="main" onPress={() => open('name')}>
            Name something out of it
          </Button>
          <Button onPress={() => open('empty')}>It is empty</Button>
        </Acts>
      )}
    </>
  );
}

function SayEmptyForm({ box, onClose }: { readonly box: BoxPage; readonly onClose: () => void }) {
  const sayEmpty = useSayEmpty(box.id, onClose);
  const isAllNamed = box.piecesLeft === 0 || (box.piecesLeft === null && box.takings.some(stands));
  if (!isAllNamed)
    return (
      <WhyForm
        label="It is empty"
        question={
          box.piecesLeft === null ? 'What became of what was in it' : `What became of the ${box.piecesLeft} that nobody named`
        }
        note="they are booked as a loss, with your name"
        act="Say that it is empty"
        isGrave
        failed="Not emptied"
        sending={sayEmpty}
        onWhy={(why) => sayEmpty.mutate(why)}
        onClose={onClose}
      />
    );
  return (
    <>
      <p>What was in it is named. The box leaves the stores.</p>
      {sayEmpty.isError && <Failure error={sayEmpty.error} word="Not emptied" />}
      <Acts>
        <Button look="main" onPress={() => sayEmpty.mutate('')} isPending={sayEmpty.isPending}>
          Say that it is empty
        </Button>
        <Button look="plain" onPress={onClose}>
          Leave it
        </Button>
      </Acts>
    </>
  );
}

const stands = ({ kind, undone }: BoxTaking): boolean => kind === 'named' && undone === null;

function Taken({ box, mayOpen }: { readonly box: BoxPage; readonly mayOpen: boolean }) {
  const { which: undoing, open: undo, close } = useOneForm<BoxTaking>();
  const unlabelled = box.takings.flatMap((taking) =>
    stands(taking) && !taking.labelled && taking.thing !== null ? [taking.thing.code] : [],
  );
  if (box.takings.length === 0) return <p className="quiet">Nothing was taken out of it yet.</p>;
  const columns: readonly Column<BoxTaking>[] = [
    { key: 'what', head: 'taken out', isLead: true, cell: (taking) => <TakingWords taking={taking} /> },
    { key: 'pieces', head: 'pieces', isNumeric: true, cell: (taking) => taking.pieces },
    {
      key: 'when',
      head: 'when, by',
      cell: (taking) => `${sayInstant(taking.at, new Date())}, ${taking.by}`,
    },
    {
      key: 'undo',
      head: 'was it a mistake?',
      cell: (taking) =>
        taking.undone !== null ? (
          <span className="quiet">
            undone by {taking.undone.by}: {taking.undone.why}
          </span>
        ) : (
          mayOpen && (
            <Button look="plain" onPress={() => undo(taking)} label={`Undo it: ${sayTaking(taking)}`}>
              Undo it
            </Button>
          )
        ),
    },
  ];
  return (
    <>
      <Table caption="Taken out of the box" columns={columns} rows={box.takings} rowKey={(taking) => taking.id} />
      {undoing !== null && <UndoForm key={undoing.id} boxId={box.id} taking={undoing} onClose={close} />}
      <PrintOnce
        codes={unlabelled.filter((code) => code.startsWith('L'))}
        stock="bag label"
        act="Print the bag labels that are not printed yet"
      />
      <PrintOnce
        codes={unlabelled.filter((code) => code.startsWith('U'))}
        stock="tie-on tag"
        act="Print the tags that are not printed yet"
      />
    </>
  );
}

interface UndoProps {
  readonly boxId: string;
  readonly taking: BoxTaking;
  readonly onClose: () => void;
}

function UndoForm({ boxId, taking, onClose }: UndoProps) {
  const undo = useUndoTaking(boxId, onClose);
  return (
    <WhyForm
      label={`Undo it: ${sayTaking(taking)}`}
      question={taking.kind === 'named' ? 'Why it goes back into the box' : 'Why it is not empty after all'}
      note="it stays on the record with your name; a label that was printed is void then"
      act="Undo it"
      failed="Not undone"
      sending={undo}
      onWhy={(why) => undo.mutate({ takingId: taking.id, why })}
      onClose={onClose}
    />
  );
}

function sayTaking({ thing, pieces, kind }: BoxTaking): string {
  if (kind === 'emptied') return pieces === 0 ? 'said to be empty' : `said to be empty, ${pieces} not found`;
  return thing?.name ?? '';
}

function TakingWords({ taking }: { readonly taking: BoxTaking }) {
  const { thing, quantity, why, undone } = taking;
  if (thing === null)
    return (
      <>
        {undone === null ? sayTaking(taking) : <s>{sayTaking(taking)}</s>} {why !== '' && <span className="quiet">{why}</span>}
      </>
    );
  return (
    <>
      <Go href={`/stores/things/${thing.id}`}>
        <Code code={thing.code} size="row" />
      </Go>{' '}
      {undone === null ? thing.name : <s>{thing.name}</s>}
      {quantity !== null && quantity !== '1' && `, ${quantity}`}
    </>
  );
}
