import { Go } from '../../ui/Go.js';
import styles from './StoresWays.module.css';

interface Way {
  readonly href: string;
  readonly words: string;
}

const WAYS: readonly { readonly head: string; readonly ways: readonly Way[] }[] = [
  {
    head: 'To do',
    ways: [
      { href: '/stores/opening', words: 'Opening stock' },
      { href: '/stores/counting', words: 'Counting' },
      { href: '/stores/sell', words: 'Counter sale' },
      { href: '/stores/consumables', words: 'Consumables' },
      { href: '/stores/to-buy', words: 'List to buy' },
    ],
  },
  {
    head: 'Set apart',
    ways: [
      { href: '/stores/unidentified', words: 'Not yet identified' },
      { href: '/stores/ask-around', words: 'Ask around' },
      { href: '/stores/held-back', words: 'Held back' },
      { href: '/stores/not-ours', words: 'Not ours' },
      { href: '/stores/kept-for-owners', words: 'Kept for owners' },
    ],
  },
  {
    head: 'To look over',
    ways: [
      { href: '/stores/shelf-life', words: 'Shelf life' },
      { href: '/stores/cores-by-age', words: 'Cores by age' },
      { href: '/stores/yields', words: 'What cores have given' },
      { href: '/stores/as-it-stood', words: 'As it stood' },
    ],
  },
];

/** The ways from Stores to what is done there, what stands apart, and what is looked over now and then. */
export function StoresWays() {
  return (
    <nav aria-label="Ways from Stores" className={styles.ways}>
      {WAYS.map(({ head, ways }) => (
        <div key={head}>
          <h2 className={styles.head}>{head}</h2>
          <ul className={styles.list}>
            {ways.map(({ href, words }) => (
              <li key={href}>
                <Go href={href} className={styles.way}>
                  {words}
                </Go>
              </li>
            ))}
          </ul>
        </div>
      ))}
    </nav>
  );
}
