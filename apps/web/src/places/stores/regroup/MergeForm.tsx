import { useState } from 'react';
import { useScanTaker } from '../../../scan/scanning.js';
import { TextField } from '../../../ui/TextField.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import styles from '../ThingScreen.module.css';
import { useMergeLot } from './regroup-actions.js';

/** One bag was labelled twice, or two bags are the same: this lot becomes part of the other. */
export function MergeForm({ lotId, onClose }: { readonly lotId: string; readonly onClose: () => void }) {
  const [into, setInto] = useState('');
  const merging = useMergeLot(lotId, onClose);
  useScanTaker((parsed) => {
    if (parsed.kind !== 'L') return false;
    setInto(parsed.code);
    return true;
  });
  return (
    <div className={styles.hold}>
      <WhyForm
        label="The same as another"
        question="Why the two are one"
        note="it stays on the record with your name; it is undone by splitting it again"
        act="Make this part of the other"
        failed="Not put together"
        sending={merging}
        onWhy={(why) => merging.mutate({ into, why })}
        onClose={onClose}
      >
        <p>
          This becomes part of the other lot, with its claims and photographs, and both labels open that one. The two must be the
          same in all that the books say.
        </p>
        <TextField label="The lot that stays: scan or key its label" value={into} onChange={setInto} maxLength={64} />
      </WhyForm>
    </div>
  );
}
