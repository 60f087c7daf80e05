import { TakenOut } from '@corewright/contracts/bench';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useRef, useState } from 'react';
import { api } from '../../api/client.js';
import { asProblem } from '../../api/problem.js';
import { newKey } from '../../api/uuid.js';
import { resolve } from '../../scan/resolve.js';
import { useScanTaker } from '../../scan/scanning.js';
import { Button } from '../../ui/Button.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { TextField } from '../../ui/TextField.js';

interface TakeOutFormProps {
  readonly fittingId: string;
  readonly jobId: string;
  readonly quantity: string;
  readonly onDone: () => void;
}

/** A fitted part comes out again. That is a new fact, not a correction: it becomes a lot of its own, fitted once. */
export function TakeOutForm({ fittingId, jobId, quantity, onDone }: TakeOutFormProps) {
  const [keyed, setKeyed] = useState({ quantity, placeCode: '', why: '' });
  // one key and one lot for this form, however often it is sent
  const ids = useRef({ key: newKey(), lotId: newKey() });
  const client = useQueryClient();
  const takeOut = useMutation({
    mutationFn: async () => {
      const { answer } = await resolve(keyed.placeCode.replace(/\s+/g, '').toUpperCase());
      const body = { lotId: ids.current.lotId, quantity: keyed.quantity, placeId: answer.id, why: keyed.why };
      return api.send(TakenOut, 'POST', `/api/fittings/${fittingId}/removal`, body, { key: ids.current.key });
    },
    onError: (thrown) => {
      // a refusal spends the key. After silence the same key must go again: the act may have been done
      if (asProblem(thrown).status !== 0) ids.current = { ...ids.current, key: newKey() };
    },
    onSuccess: () => {
      void client.invalidateQueries({ queryKey: ['bench', jobId] });
      onDone();
    },
  });
  useScanTaker((parsed) => {
    if (parsed.kind !== 'P') return false;
    setKeyed((before) => ({ ...before, placeCode: parsed.code }));
    return true;
  });

  return (
    <Form label="Take out again" onSubmit={() => takeOut.mutate()}>
      <TextField
        label="How many"
        value={keyed.quantity}
        onChange={(value) => setKeyed({ ...keyed, quantity: value.replace(',', '.') })}
        inputMode="decimal"
      />
      <TextField
        label="Where it goes: scan or key the place"
        value={keyed.placeCode}
        onChange={(placeCode) => setKeyed({ ...keyed, placeCode })}
      />
      <TextField label="Why it comes out" value={keyed.why} onChange={(why) => setKeyed({ ...keyed, why })} isRequired />
      <Button type="submit" look="main" isPending={takeOut.isPending}>
        Take it out
      </Button>
      {takeOut.error !== null && <Failure word="Not taken out" error={takeOut.error} />}
    </Form>
  );
}
