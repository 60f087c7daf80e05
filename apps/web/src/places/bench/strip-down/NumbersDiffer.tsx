import { type DifferentNumbers, NumbersDiffer as NumbersDifferValues } from '@corewright/contracts/kept-sets';
import { useState } from 'react';
import type { ApiProblem } from '../../../api/problem.js';
import { Button } from '../../../ui/Button.js';
import { Failure } from '../../../ui/Problem.js';
import { WhyForm } from '../../../ui/WhyForm.js';

export interface NumbersDifferProps {
  readonly problem: ApiProblem;
  readonly isPending: boolean;
  readonly onSay: (different: DifferentNumbers) => void;
}

/** Two parts of one set say different numbers: look again, or say which it is. */
export function NumbersDiffer({ problem, isPending, onSay }: NumbersDifferProps) {
  const [isTogether, setTogether] = useState(false);
  const values = NumbersDifferValues.safeParse(problem.values);
  if (isTogether)
    return (
      <WhyForm
        label="They belong together all the same"
        question="Why they belong together"
        note="it stays on the record with your name"
        act="They belong together, in my name"
        failed="Not recorded"
        sending={{ isPending, error: null }}
        onWhy={(why) => onSay({ say: 'they belong together', why })}
        onClose={() => setTogether(false)}
      />
    );
  return (
    <Failure
      error={problem}
      word="Look again"
      kept="What you keyed is kept."
      choices={
        values.success && (
          <>
            <Button onPress={() => onSay({ say: 'they are of two sets' })} isPending={isPending}>
              They are of two sets: keep each as an odd one
            </Button>
            <Button onPress={() => setTogether(true)}>They belong together all the same</Button>
          </>
        )
      }
    />
  );
}
