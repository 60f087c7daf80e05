import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { useScanTaker } from '../../scan/scanning.js';
import { TextField } from '../../ui/TextField.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { useReplaceCasing } from './actions.js';
import styles from './ThingScreen.module.css';

/** The casing of a unit is given up and its insides go on in another: two units, linked, each with its own stamps. */
export function ReplaceCasingForm({ unitId, onClose }: { readonly unitId: string; readonly onClose: () => void }) {
  const [unitCode, setUnitCode] = useState('');
  const replace = useReplaceCasing(unitId, onClose);
  useScanTaker((parsed) => {
    if (parsed.kind !== 'U') return false;
    setUnitCode(parsed.code);
    return true;
  });
  return (
    <div className={styles.hold}>
      <WhyForm
        label="Another casing for its insides"
        question="Why the casing is replaced"
        note="it stays on the record with your name; neither unit takes over what is stamped on the other"
        act="Link the two units"
        failed="Not linked"
        sending={replace}
        onWhy={(why) => replace.mutate({ id: newKey(), unitCode, why })}
        onClose={onClose}
      >
        <TextField
          label="The unit whose casing is used: scan or key its code"
          value={unitCode}
          onChange={setUnitCode}
          maxLength={64}
        />
      </WhyForm>
    </div>
  );
}
