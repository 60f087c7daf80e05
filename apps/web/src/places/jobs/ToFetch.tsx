import type { CoveredLine, CoverShare } from '@corewright/contracts/coverage';
import { useState } from 'react';
import { useWorksWithThings } from '../../api/session.js';
import { Button } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Go } from '../../ui/Go.js';
import { NotThereForm } from '../stores/NotThereForm.js';
import styles from './JobLines.module.css';

/** What a line counts on that lies in stores: somebody who goes for it and does not find it says so here. */
export function ToFetch({ line }: { readonly line: CoveredLine }) {
  const [missed, setMissed] = useState<string | null>(null);
  const worksWithThings = useWorksWithThings();
  const waiting = lyingInStores(line);
  if (waiting.length === 0) return null;
  return (
    <div>
      <p className={styles.subhead}>To be fetched</p>
      <ul className={styles.list}>
        {waiting.map(({ on, quantity, words }) => (
          <li key={on.id}>
            {quantity} of{' '}
            <Go href={`/stores/things/${on.id}`}>
              <Code code={on.code} />
            </Go>{' '}
            in {words}{' '}
            {worksWithThings && missed !== on.id && (
              <Button look="plain" label={`Not there: ${on.code}`} onPress={() => setMissed(on.id)}>
                Not there
              </Button>
            )}
            {missed === on.id && <NotThereForm thing={on} placeId={null} where={words} onClose={() => setMissed(null)} />}
          </li>
        ))}
      </ul>
    </div>
  );
}

type Lying = Pick<CoverShare, 'quantity' | 'words'> & { readonly on: NonNullable<CoverShare['on']> };

/** Each thing once: what is reserved of a lot and what is free of it lie in the same place. */
function lyingInStores({ shares }: CoveredLine): readonly Lying[] {
  const lying = new Map<string, Lying>();
  for (const { state, on, quantity, words } of shares) {
    if (on === null || (state !== 'free in stores' && state !== 'reserved')) continue;
    const before = lying.get(on.id);
    lying.set(on.id, { on, words, quantity: before === undefined ? quantity : added(before.quantity, quantity) });
  }
  return [...lying.values()];
}

function added(one: string, other: string): string {
  return String(Number((Number(one) + Number(other)).toFixed(4)));
}
