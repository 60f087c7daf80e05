import { type ReactNode, useState } from 'react';
import { Form } from './Form.js';
import { FormFoot, type FormFootProps } from './FormFoot.js';
import { TextField } from './TextField.js';

export interface WhyFormProps {
  /** what the form is for, for ears */
  readonly label: string;
  /** what stands above the field */
  readonly children?: ReactNode;
  /** of the field */
  readonly question: string;
  readonly note: string;
  /** on the button that does it */
  readonly act: string;
  readonly isGrave?: boolean;
  /** what is said first when it was refused */
  readonly failed: string;
  readonly sending: FormFootProps['sending'];
  readonly onWhy: (why: string) => void;
  readonly onClose: () => void;
}

/** A decision that needs its reason: nothing happens until one is keyed. */
export function WhyForm(props: WhyFormProps) {
  const [why, setWhy] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const submit = () => {
    setWasTried(true);
    if (why.trim() !== '' && !props.sending.isPending) props.onWhy(why);
  };
  return (
    <Form label={props.label} onSubmit={submit}>
      {props.children}
      <TextField
        label={props.question}
        value={why}
        onChange={setWhy}
        note={props.note}
        error={wasTried && why.trim() === '' ? 'Say why.' : null}
        autoFocus
        maxLength={200}
      />
      <FormFoot
        act={props.act}
        isGrave={props.isGrave ?? false}
        failed={props.failed}
        sending={props.sending}
        onClose={props.onClose}
      />
    </Form>
  );
}
