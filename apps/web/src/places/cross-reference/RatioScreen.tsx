import { useEffect, useState } from 'react';
import { PageHead } from '../../ui/Section.js';
import { CrossReferencePages } from './CrossReferencePages.js';
import { RatioByTeeth } from './RatioByTeeth.js';
import { RatioByTurns } from './RatioByTurns.js';
import { noRatioAsked, type RatioAsked } from './ratio-asked.js';

export interface RatioScreenProps {
  /** What is asked, as in the address. */
  readonly asked: Partial<RatioAsked>;
  readonly onAsk: (asked: RatioAsked) => void;
}

/** By ratio: what counted teeth or counted turns say of a gear set. Reckoned on the device. */
export function RatioScreen({ asked, onAsk }: RatioScreenProps) {
  const { teeth, input, off, output, side, drivers, drivens } = { ...noRatioAsked, ...asked };
  const whole: RatioAsked = { teeth, input, off, output, side, drivers, drivens };
  const [turns, setTurns] = useState(whole);
  // going back brings the figures of then
  useEffect(
    () => setTurns({ teeth: '', input, off, output, side, drivers, drivens }),
    [input, off, output, side, drivers, drivens],
  );
  return (
    <>
      <PageHead title="Cross-reference" note="What it is, and what else will serve." />
      <CrossReferencePages />
      <RatioByTeeth teeth={teeth} onAsk={(counted) => onAsk({ ...turns, teeth: counted })} />
      <RatioByTurns
        asked={whole}
        draft={turns}
        onDraft={(change) => setTurns((before) => ({ ...before, ...change }))}
        onAsk={() => onAsk({ ...turns, teeth })}
      />
    </>
  );
}
