import type { DisposeOf } from '@corewright/contracts/goods-apart';
import { useState } from 'react';
import { Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { useCondemn, useDisposal } from './apart-actions.js';
import { ActRow, NeededField } from './Fields.js';
import type { ThingInHand } from './HoldForms.js';

interface CondemnFormProps {
  readonly thing: ThingInHand;
  /** how many photographs of it stand */
  readonly pictures: number;
  readonly onClose: () => void;
}

/** Condemning is for good: the form says so, and asks for a photograph of what is wrong. */
export function CondemnForm({ thing, pictures, onClose }: CondemnFormProps) {
  const condemn = useCondemn(thing, onClose);
  const [reason, setReason] = useState('');
  const [noPicture, setNoPicture] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const lacksPicture = pictures === 0 && noPicture.trim() === '';
  const submit = () => {
    setWasTried(true);
    if (reason.trim() === '' || lacksPicture || condemn.isPending) return;
    condemn.mutate({ reason, noPicture: pictures === 0 ? noPicture : '' });
  };
  return (
    <Form label={`Condemn ${thing.code}`} onSubmit={submit}>
      <p>
        <b>This is for good.</b> Nobody can lift it, and no name and no reason brings it into a job again. What is reserved of it
        is given back, and the jobs are warned. It can only be scrapped, given back to its owner, or kept as a pattern or for
        display.
      </p>
      <NeededField
        label="Why it is condemned"
        value={reason}
        onChange={setReason}
        note="what was found, by whom and how; it stays on the record with your name"
        missing="Say why."
        wasTried={wasTried}
        autoFocus
      />
      {pictures === 0 ? (
        <NeededField
          label="Why there is no photograph"
          value={noPicture}
          onChange={setNoPicture}
          note="better: leave this, photograph what is wrong, and come back"
          missing="Photograph it first, or say why there is no photograph."
          wasTried={wasTried}
        />
      ) : (
        <p className="quiet">{pictures === 1 ? '1 photograph of it stands.' : `${pictures} photographs of it stand.`}</p>
      )}
      <FormFoot act="Condemn it for good" isGrave failed="Not condemned" sending={condemn} onClose={onClose} />
    </Form>
  );
}

type How = DisposeOf['how'];

export interface DisposalFormProps {
  readonly thing: ThingInHand;
  /** null: ours */
  readonly owner: string | null;
  readonly onClose: () => void;
}

/** What becomes of what is condemned. */
export function DisposalForm({ thing, owner, onClose }: DisposalFormProps) {
  const disposal = useDisposal(thing, onClose);
  const [how, setHow] = useState<How | null>(null);
  const [words, setWords] = useState('');
  const [ownersWord, setOwnersWord] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const wantsWord = owner !== null && how !== 'given back';
  const submit = () => {
    setWasTried(true);
    if (how === null || words.trim() === '' || (wantsWord && ownersWord.trim() === '') || disposal.isPending) return;
    disposal.mutate({ how, words, ownersWord: wantsWord ? ownersWord : '' });
  };
  const choices: { value: How; label: string }[] = [
    { value: 'scrapped', label: 'To scrap' },
    ...(owner === null ? [] : [{ value: 'given back' as const, label: 'Back to its owner' }]),
    { value: 'kept as a pattern', label: 'Kept as a pattern' },
    { value: 'kept for display', label: 'Kept for display' },
  ];
  return (
    <Form label={`What becomes of ${thing.code}`} onSubmit={submit}>
      <ActRow
        label="What becomes of it"
        value={how}
        choices={choices}
        onChange={setHow}
        missing="Say what becomes of it."
        wasTried={wasTried}
      />
      <NeededField
        label="In words"
        value={words}
        onChange={setWords}
        note="where it went, or where it is kept and how it is marked"
        missing="Say where it went or is kept."
        wasTried={wasTried}
      />
      {wantsWord && (
        <NeededField
          label="The owner’s word"
          value={ownersWord}
          onChange={setOwnersWord}
          note={`it is ${owner}’s: who agreed, when and how`}
          missing="Without the owner’s word it is kept."
          wasTried={wasTried}
        />
      )}
      <FormFoot act="Put it on the record" failed="Not put down" sending={disposal} onClose={onClose} />
    </Form>
  );
}
