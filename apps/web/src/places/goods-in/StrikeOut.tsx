import type { LoadRow } from '@corewright/contracts/goods-in';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { Button } from '../../ui/Button.js';
import { Failure } from '../../ui/Problem.js';
import { TextField } from '../../ui/TextField.js';
import { strikeRow } from './actions.js';
import styles from './LoadGrid.module.css';

/** Strikes a row out that should not have been keyed. It stays on the record, and its code is void. */
export function StrikeOut({ loadId, row }: { readonly loadId: string; readonly row: LoadRow }) {
  const client = useQueryClient();
  const [isOpen, setOpen] = useState(false);
  const [reason, setReason] = useState('');
  const strike = useMutation({
    mutationFn: () => strikeRow(loadId, row, reason.trim()),
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
      <TextField
        label="Why it is struck out"
        value={reason}
        onChange={setReason}
        note="the row stays on the record; its code is void from then on"
        maxLength={200}
      />
      <span className={styles.choices}>
        <Button look="grave" onPress={() => strike.mutate()} isDisabled={reason.trim() === ''} isPending={strike.isPending}>
          {reason.trim() === '' ? 'Strike out: say why' : `Strike row ${row.position} out`}
        </Button>
        <Button look="plain" onPress={() => setOpen(false)}>
          Leave it
        </Button>
      </span>
      {strike.isError && <Failure error={strike.error} word="Not struck out" />}
    </div>
  );
}
