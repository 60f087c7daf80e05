import type { LoadRow } from '@corewright/contracts/goods-in';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { Button } from '../../ui/Button.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { strikeRow } from './actions.js';
import styles from './LoadGrid.module.css';

/** Strikes a row out that should not have been keyed. It stays on the record, and its code is void. */
export function StrikeOut({ loadId, row }: { readonly loadId: string; readonly row: LoadRow }) {
  const client = useQueryClient();
  const [isOpen, setOpen] = useState(false);
  const strike = useMutation({
    mutationFn: (why: string) => strikeRow(loadId, row, why),
    onSuccess: () => void client.invalidateQueries({ queryKey: ['goods-in'] }),
  });
  if (!isOpen) {
    return (
      <Button look="plain" onPress={() => setOpen(true)}>
        Strike this row out
      </Button>
    );
  }
  return (
    <div className={styles.strike}>
      <WhyForm
        label={`Strike row ${row.position} out`}
        question="Why it is struck out"
        note="the row stays on the record; its code is void from then on"
        act={`Strike row ${row.position} out`}
        isGrave
        failed="Not struck out"
        sending={strike}
        onWhy={(why) => strike.mutate(why)}
        onClose={() => setOpen(false)}
      />
    </div>
  );
}
