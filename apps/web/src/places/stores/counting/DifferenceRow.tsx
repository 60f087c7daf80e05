import type { CountLine } from '@corewright/contracts/counting';
import { Acts, Button } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { classNames } from '../../../ui/class-names.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { sayMoney } from '../../../ui/say-money.js';
import { sayInstant } from '../../../ui/say-when.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import { Photographs } from '../../photographs/Photographs.js';
import { useDecideLines, useTakeDecisionBack } from './actions.js';
import styles from './Counting.module.css';
import { DecideForm, needsForm } from './DecideForm.js';
import { decisionOn } from './proposal.js';

type Offered = CountLine['offered'][number];

export const decisionWords: Readonly<Record<Offered, string>> = {
  post: 'Post it',
  move: 'It lies here now',
  missing: 'Mark it as not found',
  again: 'Have it counted again',
  leave: 'Leave it, and say why',
};

interface DifferenceRowProps {
  readonly countId: string;
  readonly line: CountLine;
  readonly currency: string;
}

/** A line that differs: what was counted by whom, what the books held then, what it is worth, and what can be done. */
export function DifferenceRow({ countId, line, currency }: DifferenceRowProps) {
  const { which, open, close } = useOneForm<Offered>();
  const decide = useDecideLines(countId, () => undefined);
  const { thing, place } = line;
  const press = (offered: Offered) => {
    if (needsForm(line, offered)) open(offered);
    else decide.mutate([decisionOn(line, offered)]);
  };
  return (
    <article
      className={classNames(styles.line, line.offered.length === 0 && styles.done)}
      aria-label={`${thing.name}, ${place.name}`}
    >
      <div>
        <Go href={`/stores/things/${thing.id}`}>
          {thing.code !== '' && <Code code={thing.code} size="row" />} <b>{thing.name}</b>
        </Go>
        <div className="quiet">
          {place.name}
          {line.owner !== null && `; ${line.owner}’s`}
        </div>
        {line.claims.length > 0 && <div>Reserved: {line.claims.join('; ')}</div>}
      </div>
      <Figures line={line} currency={currency} />
      <div>
        <p>{line.decided === null ? line.why : ''}</p>
        <Doubts line={line} />
        <Decided line={line} />
        {which === null && line.offered.length > 0 && (
          <Acts>
            {line.offered.map((offered, index) => (
              <Button
                key={offered}
                look={index === 0 ? 'usual' : 'plain'}
                label={`${decisionWords[offered]}: ${thing.code}`}
                isPending={decide.isPending}
                onPress={() => press(offered)}
              >
                {decisionWords[offered]}
              </Button>
            ))}
          </Acts>
        )}
      </div>
      {(which !== null || decide.isError) && (
        <div className={styles.form}>
          {which === null ? (
            <Failure error={decide.error} word="Not done" />
          ) : (
            <DecideForm countId={countId} line={line} decision={which} onClose={close} />
          )}
        </div>
      )}
    </article>
  );
}

/** What those who counted it doubted, as they saw it. */
function Doubts({ line: { doubts } }: { readonly line: CountLine }) {
  return doubts.map(({ id, words, by, at, pictures }) => (
    <div key={id}>
      <p>
        In doubt: <b>{words}</b>{' '}
        <span className="quiet">
          {by}, {sayInstant(at, new Date())}
        </span>
      </p>
      <Photographs pictures={pictures} subject={words} subjectIds={[id]} />
    </div>
  ));
}

const shapes: Readonly<Record<CountLine['state'], string | undefined>> = {
  agrees: undefined,
  short: styles.gone,
  missing: styles.gone,
  found: styles.more,
  'lies elsewhere by the books': styles.astray,
  'counted twice': styles.doubt,
  'no number keyed': styles.doubt,
  'to be keyed once more': styles.doubt,
  'taken back meanwhile': styles.doubt,
  'to be counted again': styles.doubt,
};

function Figures({ line, currency }: { readonly line: CountLine; readonly currency: string }) {
  const { state, counted, books, difference, counts, entries, elsewhere, worth, worthWords } = line;
  return (
    <div className={styles.figures}>
      <b className={classNames(styles.state, shapes[state])}>{state}</b>
      {counted === null ? (
        counts.map(({ words }) => <div key={words}>{words}</div>)
      ) : (
        <div>
          {counted} counted, {books} by the books{difference !== null && difference !== '0' && `: ${sayDifference(difference)}`}
        </div>
      )}
      {entries.map(({ id, by, at, inOwnName }) => (
        <div key={id} className="quiet">
          {by}, {sayInstant(at, new Date())}
          {inOwnName && ', once more in their own name: everybody had looked'}
        </div>
      ))}
      {elsewhere.map(({ placeId, words, quantity }) => (
        <div key={placeId}>
          by the books {quantity} in {words}
        </div>
      ))}
      {worthWords !== '' && (
        <div>
          {worth !== null && <b>{sayMoney(worth, currency)} </b>}
          <span className="quiet">{worthWords}</span>
        </div>
      )}
    </div>
  );
}

function Decided({ line }: { readonly line: CountLine }) {
  const back = useTakeDecisionBack();
  const { decided, thing } = line;
  if (decided === null) return null;
  return (
    <>
      <p>
        <b>{decided.words}</b>{' '}
        <span className="quiet">
          {decided.by}, {sayInstant(decided.at, new Date())}
        </span>
      </p>
      {decided.canBeTakenBack && (
        <Button
          look="plain"
          label={`Take that back: ${thing.code}`}
          isPending={back.isPending}
          onPress={() => back.mutate(decided.id)}
        >
          Take that back
        </Button>
      )}
      {back.isError && <Failure error={back.error} word="Not taken back" />}
    </>
  );
}

/** "2 fewer", "1 more". */
function sayDifference(difference: string): string {
  return difference.startsWith('-') ? `${difference.slice(1)} fewer` : `${difference} more`;
}
