import type { LotThing } from '@corewright/contracts/stores';
import { useState } from 'react';
import type * as z from 'zod';
import { Acts, Button } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { RadioRow } from '../../ui/RadioRow.js';
import { dayOf } from '../../ui/say-when.js';
import { TextField } from '../../ui/TextField.js';
import { useInspection } from './actions.js';
import styles from './ThingScreen.module.css';

export interface InspectFormProps {
  readonly lot: z.infer<typeof LotThing>;
  readonly onClose: () => void;
}

type Outcome = 'passed' | 'not passed';

/** Somebody has looked at a lot to see what age has done to it: when, at what, what was found. */
export function InspectForm({ lot, onClose }: InspectFormProps) {
  const [inspectedOn, setInspectedOn] = useState(() => dayOf(new Date()));
  const [lookedAt, setLookedAt] = useState('');
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const [words, setWords] = useState('');
  const [wasTried, setWasTried] = useState(false);
  const inspection = useInspection(lot, onClose);
  const lacks = (text: string, ask: string) => (wasTried && text.trim() === '' ? ask : null);
  const submit = () => {
    setWasTried(true);
    const isWhole = [inspectedOn, lookedAt, words].every((text) => text.trim() !== '');
    if (!isWhole || outcome === null || inspection.isPending) return;
    inspection.mutate({ inspectedOn, lookedAt, passed: outcome === 'passed', words });
  };
  return (
    <div className={styles.hold}>
      <Form label="Inspect it" onSubmit={submit}>
        <p className="quiet">{lot.storageLife.sentence}</p>
        <FieldPair>
          <TextField
            label="Inspected on"
            type="date"
            value={inspectedOn}
            onChange={setInspectedOn}
            error={lacks(inspectedOn, 'Say on which day.')}
          />
          <TextField
            label="What was looked at"
            value={lookedAt}
            onChange={setLookedAt}
            note="how many, which faces, in what light"
            error={lacks(lookedAt, 'Say what was looked at.')}
            autoFocus
            maxLength={200}
          />
        </FieldPair>
        <RadioRow
          label="Outcome"
          value={outcome}
          choices={[
            { value: 'passed', label: lot.preservation === null ? 'Passed' : 'Passed, and preserved anew' },
            { value: 'not passed', label: 'Not passed: hold it back' },
          ]}
          onChange={setOutcome}
        />
        {wasTried && outcome === null && <p role="alert">Say whether it passed.</p>}
        <TextField
          label="What was found"
          value={words}
          onChange={setWords}
          note="it stays on the record with your name"
          error={lacks(words, 'Say what was found.')}
          maxLength={200}
        />
        <CautionLine>
          What counts as passed is for the maker’s manual and for qualified people. Old gaskets can hold asbestos: follow local
          rules.
        </CautionLine>
        {inspection.isError && <Failure error={inspection.error} kept="What you keyed is kept." />}
        <Acts>
          <Button look="main" type="submit" isPending={inspection.isPending}>
            Put it on the record
          </Button>
          <Button look="plain" onPress={onClose}>
            Leave it
          </Button>
        </Acts>
      </Form>
    </div>
  );
}
