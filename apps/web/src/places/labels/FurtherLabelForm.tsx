import { useState } from 'react';
import { useScanTaker } from '../../scan/scanning.js';
import { Acts, Button } from '../../ui/Button.js';
import { Failure } from '../../ui/Problem.js';
import { TextField } from '../../ui/TextField.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { useFurtherLabel } from './label-change-actions.js';
import { NewLabel } from './NewLabel.js';

/** A second tag: one wired to the casing, one with its paperwork. Both open the same thing. */
export function FurtherLabelForm({ code, onClose }: { readonly code: string; readonly onClose: () => void }) {
  const [blank, setBlank] = useState('');
  const putting = useFurtherLabel(code);
  useScanTaker((parsed) => {
    if (putting.isSuccess || parsed.kind === 'J' || parsed.kind === 'B') return false;
    setBlank(parsed.code);
    return true;
  });
  if (putting.isSuccess)
    return (
      <>
        <NewLabel changed={putting.data} isPrintedBefore={blank !== ''} />
        <Acts>
          <Button look="plain" onPress={onClose}>
            Done
          </Button>
        </Acts>
      </>
    );
  return (
    <WhyForm
      label="A further label"
      question="What the further label is for"
      note="for its paperwork, for the other end of it"
      act="Put it on"
      failed="Not put on"
      sending={{ isPending: putting.isPending, error: null }}
      onWhy={(why) => putting.mutate({ code: blank.trim() === '' ? null : blank, why })}
      onClose={onClose}
    >
      <TextField
        label="Scan or key a blank label"
        value={blank}
        onChange={setBlank}
        note="empty: it is given a new code, and the label is printed"
        maxLength={64}
      />
      {putting.isError && <Failure error={putting.error} word="Not put on" kept="What you keyed is kept." />}
    </WhyForm>
  );
}
