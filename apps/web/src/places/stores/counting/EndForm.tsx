import type { CountPage } from '@corewright/contracts/counting';
import { useState } from 'react';
import { Acts, Button } from '../../../ui/Button.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { useEndCount } from './actions.js';

/** A count is closed once every difference is decided; or it is given up, with a reason. */
export function EndForm({ count }: { readonly count: CountPage }) {
  const [isGivingUp, setGivingUp] = useState(false);
  const ending = useEndCount(count.id, () => setGivingUp(false));
  return (
    <Section title="When all is decided">
      {isGivingUp ? (
        <WhyForm
          label="Give the count up"
          question="Why it is given up"
          note="what was posted of it stays posted; the rest changes nothing, and it does not stand as counted"
          act="Give it up"
          isGrave
          failed="Not given up"
          sending={ending}
          onWhy={(why) => ending.mutate({ ending: 'given up', why })}
          onClose={() => setGivingUp(false)}
        />
      ) : (
        <>
          {ending.isError && <Failure error={ending.error} word="Not closed" />}
          <Acts>
            <Button look="main" isPending={ending.isPending} onPress={() => ending.mutate({ ending: 'posted' })}>
              Close count {count.number}
            </Button>
            <Button look="plain" onPress={() => setGivingUp(true)}>
              Give it up
            </Button>
          </Acts>
        </>
      )}
    </Section>
  );
}
