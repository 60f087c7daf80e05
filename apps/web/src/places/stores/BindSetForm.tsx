import type { DifferentNumbers } from '@corewright/contracts/kept-sets';
import type { Thing } from '@corewright/contracts/stores';
import { useState } from 'react';
import { asProblem } from '../../api/problem.js';
import { newKey } from '../../api/uuid.js';
import { useScanTaker } from '../../scan/scanning.js';
import { Acts, Button } from '../../ui/Button.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { TextField } from '../../ui/TextField.js';
import { NumbersDiffer } from '../bench/strip-down/NumbersDiffer.js';
import { useBindSet } from './actions.js';
import styles from './ThingScreen.module.css';

/** Two parts that belong together for good: the other one is scanned, and what is stamped on each is keyed. */
export function BindSetForm({ thing, onClose }: { readonly thing: Thing; readonly onClose: () => void }) {
  const [keyed, setKeyed] = useState({ words: '', code: '', stamped: '', stampedOther: '' });
  const [wasTried, setWasTried] = useState(false);
  const bind = useBindSet(onClose);
  const put = (more: Partial<typeof keyed>) => setKeyed({ ...keyed, ...more });
  useScanTaker((parsed) => {
    if (parsed.kind !== 'L' && parsed.kind !== 'C') return false;
    put({ code: parsed.code });
    return true;
  });
  const lacks = (text: string, ask: string) => (wasTried && text.trim() === '' ? ask : null);
  const send = (different?: DifferentNumbers) => {
    setWasTried(true);
    if (keyed.words.trim() === '' || keyed.code.trim() === '' || bind.isPending) return;
    const members = [
      { code: thing.code, stamped: keyed.stamped },
      { code: keyed.code, stamped: keyed.stampedOther },
    ];
    bind.mutate({ id: newKey(), words: keyed.words, members, ...(different && { different }) });
  };
  const problem = bind.error === null ? null : asProblem(bind.error);
  return (
    <div className={styles.hold}>
      <Form label="Keep it together with another" onSubmit={() => send()}>
        <TextField
          label="What they are together"
          value={keyed.words}
          onChange={(words) => put({ words })}
          note="wheel and pinion, cup and cone, caps and casing"
          error={lacks(keyed.words, 'Say what they are.')}
          autoFocus
          maxLength={200}
        />
        <FieldPair>
          <TextField
            label="Stamped on this one"
            value={keyed.stamped}
            onChange={(stamped) => put({ stamped })}
            note="? for what cannot be read; empty where nothing is"
            maxLength={40}
          />
          <TextField
            label="The other one: scan or key its code"
            value={keyed.code}
            onChange={(code) => put({ code })}
            error={lacks(keyed.code, 'Scan the other part.')}
            maxLength={64}
          />
          <TextField
            label="Stamped on the other"
            value={keyed.stampedOther}
            onChange={(stampedOther) => put({ stampedOther })}
            maxLength={40}
          />
        </FieldPair>
        {problem?.code === 'set-numbers-differ' ? (
          <NumbersDiffer problem={problem} isPending={bind.isPending} onSay={send} />
        ) : (
          problem !== null && <Failure error={problem} word="Not bound" kept="What you keyed is kept." />
        )}
        <Acts>
          <Button look="main" type="submit" isPending={bind.isPending}>
            Bind them as one set
          </Button>
          <Button look="plain" onPress={onClose}>
            Leave it
          </Button>
        </Acts>
      </Form>
    </div>
  );
}
