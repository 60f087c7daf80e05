import type { EndKept, KeepForOwner, KeptForOwner, NoteWay } from '@corewright/contracts/goods-apart';
import { useState } from 'react';
import { newKey } from '../../../api/uuid.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { RadioRow } from '../../../ui/RadioRow.js';
import { SelectField } from '../../../ui/SelectField.js';
import { dayOf } from '../../../ui/say-when.js';
import { TextField } from '../../../ui/TextField.js';
import { useKeeping, useKeptEnding, useKeptNote } from './apart-actions.js';
import { ActRow, AskWhomField, DayField, LookAgainField, NeededField, OwnerField, onItsTag, PaidField } from './Fields.js';
import type { ThingInHand } from './HoldForms.js';

const KINDS: readonly { value: KeepForOwner['kind']; label: string }[] = [
  { value: 'to be collected', label: 'to be collected' },
  { value: 'left over from a job', label: 'left over from a job' },
  { value: 'core not accepted', label: 'a core that was not accepted' },
  { value: 'job not paid', label: 'its job is not paid' },
  { value: 'to be decided by its owner', label: 'its owner is to decide' },
];

/** A customer’s thing waits for them from now on. */
export function KeepForm({ thing, onClose }: { readonly thing: ThingInHand; readonly onClose: () => void }) {
  const keep = useKeeping(thing.id, onClose);
  const [id] = useState(newKey);
  const [kind, setKind] = useState<KeepForOwner['kind']>('to be collected');
  const [words, setWords] = useState('');
  const [askWhom, setAskWhom] = useState('');
  const [since, setSince] = useState(dayOf(new Date()));
  const [lookAgainOn, setLookAgainOn] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const submit = () => {
    setWasTried(true);
    if (words.trim() === '' || since === '' || lookAgainOn === '' || keep.isPending) return;
    keep.mutate({ id, kind, words, askWhom, since, lookAgainOn });
  };
  return (
    <Form label={`Keep ${thing.code} for its owner`} onSubmit={submit}>
      <p>It is held back as long as it is kept, and serves no job, its owner’s own among them.</p>
      <FieldPair>
        <SelectField label="What it waits for" value={kind} choices={KINDS} onChange={setKind} />
        <AskWhomField value={askWhom} onChange={setAskWhom} note="name, number, address" />
      </FieldPair>
      <NeededField
        label="In words"
        value={words}
        onChange={setWords}
        note="what was agreed, what it belongs to"
        missing="Say what it is about."
        wasTried={wasTried}
      />
      <FieldPair>
        <DayField label="Since" value={since} onChange={setSince} wasTried={wasTried} />
        <LookAgainField value={lookAgainOn} onChange={setLookAgainOn} note={onItsTag} isNeeded wasTried={wasTried} />
      </FieldPair>
      <FormFoot act="Keep it for its owner" failed="Not put down" sending={keep} onClose={onClose} />
    </Form>
  );
}

const WAYS: readonly { value: NoteWay; label: string }[] = [
  { value: 'letter', label: 'letter' },
  { value: 'call', label: 'call' },
  { value: 'message', label: 'message' },
  { value: 'visit', label: 'visit' },
  { value: 'advice taken', label: 'advice taken' },
  { value: 'looked at', label: 'looked at it' },
];

interface KeptFormProps {
  readonly kept: KeptForOwner;
  readonly onClose: () => void;
}

/** What was written or said, to whom and when; with it the next day to look again. */
export function NoteForm({ kept, onClose }: KeptFormProps) {
  const note = useKeptNote(kept.id, onClose);
  const [id] = useState(newKey);
  const [way, setWay] = useState<NoteWay>('call');
  const [on, setOn] = useState(dayOf(new Date()));
  const [withWhom, setWithWhom] = useState(kept.askWhom);
  const [words, setWords] = useState('');
  const [lookAgainOn, setLookAgainOn] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const submit = () => {
    setWasTried(true);
    if (words.trim() === '' || on === '' || note.isPending) return;
    note.mutate({ id, way, on, withWhom, words, lookAgainOn: lookAgainOn === '' ? null : lookAgainOn });
  };
  return (
    <Form label={`Write down what was said about ${kept.thing.code}`} onSubmit={submit}>
      <RadioRow label="How" value={way} choices={WAYS} onChange={setWay} />
      <FieldPair>
        <TextField label="With whom" value={withWhom} onChange={setWithWhom} maxLength={200} />
        <DayField label="On" value={on} onChange={setOn} wasTried={wasTried} />
      </FieldPair>
      <NeededField
        label="What was written or said"
        value={words}
        onChange={setWords}
        missing="Say what was written or said."
        wasTried={wasTried}
        autoFocus
      />
      <LookAgainField
        value={lookAgainOn}
        onChange={setLookAgainOn}
        note="empty: the day that stands is kept"
        wasTried={wasTried}
      />
      <FormFoot act="Put it on the record" failed="Not put down" sending={note} onClose={onClose} />
    </Form>
  );
}

type How = EndKept['how'];

/** What became of it: it leaves, or it is whose it is from now on. */
export function EndForm({ kept, onClose }: KeptFormProps) {
  const end = useKeptEnding(kept.id, onClose);
  const [how, setHow] = useState<How | null>(null);
  const [words, setWords] = useState('');
  const [restsOn, setRestsOn] = useState('');
  const [ownerName, setOwnerName] = useState('');
  const [price, setPrice] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const wantsWord = how === 'given away' || how === 'scrapped';
  const lacks =
    how === null || words.trim() === '' || (wantsWord && restsOn.trim() === '') || (how === 'claimed' && ownerName.trim() === '');
  const submit = () => {
    setWasTried(true);
    if (how === null || lacks || end.isPending) return;
    end.mutate({
      how,
      words,
      restsOn: wantsWord ? restsOn : '',
      ownerName: how === 'claimed' ? ownerName : '',
      price: how === 'bought' ? price : '',
    });
  };
  const choices: { value: How; label: string }[] = [
    ...(kept.owner === null
      ? [{ value: 'claimed' as const, label: 'Its owner claims it' }]
      : [
          { value: 'collected' as const, label: 'It was collected' },
          { value: 'bought' as const, label: 'We bought it' },
        ]),
    { value: 'given away', label: 'It was given away' },
    { value: 'scrapped', label: 'It was scrapped' },
  ];
  return (
    <Form label={`What became of ${kept.thing.code}`} onSubmit={submit}>
      <ActRow
        label="What became of it"
        value={how}
        choices={choices}
        onChange={setHow}
        missing="Say what became of it."
        wasTried={wasTried}
      />
      {how === 'claimed' && (
        <OwnerField
          value={ownerName}
          onChange={setOwnerName}
          note="a customer of the books; it is theirs from now on and stays here until it is collected"
          wasTried={wasTried}
        />
      )}
      {how === 'bought' && <PaidField value={price} onChange={setPrice} note="empty: not known" />}
      <NeededField
        label={how === 'collected' ? 'Who took it, and what was signed' : 'In words'}
        value={words}
        onChange={setWords}
        missing="Say who, and what was signed or said."
        wasTried={wasTried}
      />
      {wantsWord && (
        <NeededField
          label={kept.owner === null ? 'What this rests on' : 'The owner’s word'}
          value={restsOn}
          onChange={setRestsOn}
          note={
            kept.owner === null
              ? 'which advice was taken, what was written to whom, how long it was kept'
              : 'who said so, when and how'
          }
          missing="It is not ours: without that it is kept."
          wasTried={wasTried}
        />
      )}
      <FormFoot act="Put it on the record" failed="Not put down" sending={end} onClose={onClose} />
    </Form>
  );
}
