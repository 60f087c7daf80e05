import { type OpeningProgress, OpeningShelf, type RackProgress, type ShelfProgress } from '@corewright/contracts/opening-stock';
import { useQuery } from '@tanstack/react-query';
import { useRouter } from '@tanstack/react-router';
import { api } from '../../../api/client.js';
import { useKeepsBooks, useWorksWithThings } from '../../../api/session.js';
import { newKey } from '../../../api/uuid.js';
import { useScanTaker } from '../../../scan/scanning.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Fold } from '../../../ui/Fold.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { sayMoney } from '../../../ui/say-money.js';
import { sayInstant } from '../../../ui/say-when.js';
import { useStoresChange } from '../actions.js';
import { sayThings } from '../say-things.js';
import { AddShelf } from './AddShelf.js';
import styles from './Opening.module.css';
import { progressQuery, worthQuery } from './queries.js';
import { ShelfStateWord } from './ShelfState.js';

/** How far the shelves are that stood here before the books: rack by rack, with what is left. */
export function OpeningScreen() {
  const progress = useQuery(progressQuery);
  const router = useRouter();
  const keepsBooks = useKeepsBooks();
  const worksWithThings = useWorksWithThings();
  const shelves = progress.data?.racks.flatMap((rack) => rack.shelves) ?? [];
  useScanTaker(({ code }) => {
    const shelf = shelves.find((each) => each.code === code);
    if (shelf === undefined) return false;
    router.history.push(`/stores/opening/shelf/${shelf.id}`);
    return true;
  });
  return (
    <>
      <PageHead
        title="Opening stock"
        note="What stood here before the books. Scan a shelf to key what lies on it; work goes on meanwhile: what is taken onto a job from a shelf that nobody has opened is keyed with the card of the job."
        acts={
          <Acts>
            {keepsBooks && <ButtonLink href="/stores/opening/desk">Name and cost it</ButtonLink>}
            <ButtonLink href="/stores/ask-around">Ask around</ButtonLink>
            <ButtonLink href="/stores">All of Stores</ButtonLink>
          </Acts>
        }
      />
      {progress.isPending && <Waiting>Counting the shelves …</Waiting>}
      {progress.isError && <Failure error={progress.error} word="Not found out" />}
      {progress.data !== undefined && <Progress progress={progress.data} mayKey={worksWithThings} />}
      {worksWithThings && <AddShelf parent={null} />}
      {keepsBooks && progress.data?.started === true && <Worth />}
    </>
  );
}

function Progress({ progress, mayKey }: { readonly progress: OpeningProgress; readonly mayKey: boolean }) {
  const shelves = progress.done + progress.begun + progress.notYet;
  if (shelves === 0)
    return (
      <Empty title="No shelves yet">
        Add the first below: its name, what it is, and what it stands in. Or bring them all in with an import in Settings.
      </Empty>
    );
  return (
    <>
      <Section title="How far it is" aside={`${progress.done} of ${shelves} shelves in the books`}>
        <p className={styles.left}>{sayLeft(progress)}</p>
      </Section>
      {progress.racks.map((rack) => (
        <Rack key={rack.id} rack={rack} mayKey={mayKey} />
      ))}
    </>
  );
}

function sayLeft({ begun, notYet, things, toName, asked, notCosted }: OpeningProgress): string {
  const left = begun + notYet;
  if (left === 0 && toName === 0 && notCosted === 0)
    return `All shelves are in the books, ${things === 0 ? 'with nothing keyed' : sayThings(things)}, and all that anybody here knows is said of them.${asked === 0 ? '' : ` ${asked} are with those who are asked around.`}`;
  return [
    left === 0 ? 'Every shelf is in the books.' : `Left: ${notYet} not yet, ${begun} begun.`,
    things === 0
      ? 'Nothing is keyed yet.'
      : `${sayThings(things)} keyed: ${toName} to be named, ${notCosted} without a word on their cost${asked === 0 ? '' : `, ${asked} that nobody here knows`}.`,
  ].join(' ');
}

function Rack({ rack, mayKey }: { readonly rack: RackProgress; readonly mayKey: boolean }) {
  const shelves = rack.shelves.length;
  const counted = useStoresChange(
    () => undefined,
    (inside: boolean) =>
      api.send(
        OpeningShelf,
        'POST',
        `/api/opening/places/${rack.id}/done`,
        { inside, why: 'in the books otherwise' },
        { key: newKey() },
      ),
  );
  return (
    <Fold
      summary={
        <span className={styles.rack}>
          <b>{rack.name}</b> <ShelfStateWord state={rack.state} />{' '}
          <span className="quiet">
            {rack.done} of {shelves} {shelves === 1 ? 'shelf' : 'shelves'}, {sayLying(rack)}
          </span>
        </span>
      }
      isOpenAtFirst={rack.state === 'begun'}
    >
      <ol className={styles.rows} aria-label={`Shelves of ${rack.name}`}>
        {rack.shelves.map((shelf) => (
          <li key={shelf.id}>
            <Go className={styles.shelf} href={`/stores/opening/shelf/${shelf.id}`}>
              <b>{shelf.name}</b>
              <ShelfStateWord state={shelf.state} />
              <span className="quiet">{factsOf(shelf)}</span>
            </Go>
          </li>
        ))}
      </ol>
      {mayKey && rack.state !== 'done' && (
        <Acts>
          <Button look="plain" onPress={() => counted.mutate(true)} isPending={counted.isPending}>
            All of {rack.name} is in the books otherwise
          </Button>
        </Acts>
      )}
      {counted.isError && <Failure error={counted.error} word="Not said" />}
    </Fold>
  );
}

function factsOf({ state, since, lying, things, toName, asked, notCosted }: ShelfProgress): string {
  return [
    state === 'done' && since !== null ? `since ${sayInstant(since, new Date())}` : '',
    sayLying({ lying, things }),
    toName === 0 ? '' : `${toName} to be named`,
    asked === 0 ? '' : `${asked} that nobody knows`,
    notCosted === 0 ? '' : `${notCosted} without a cost`,
  ]
    .filter((words) => words !== '')
    .join(', ');
}

/** "4 keyed, 7 things lie here by the books" */
function sayLying({ lying, things }: Pick<ShelfProgress, 'lying' | 'things'>): string {
  if (lying === 0) return things === 0 ? 'nothing keyed' : `${things} keyed`;
  const by = `${sayThings(lying)} there by the books`;
  return things === 0 ? by : `${things} keyed, ${by}`;
}

/** What it cost as far as anybody knows. What nobody knows is counted, and is no nought in the sum. */
function Worth() {
  const worth = useQuery(worthQuery);
  if (worth.data === undefined) return worth.isError ? <Failure error={worth.error} word="Not reckoned" /> : null;
  const { currency, known, ofThatEstimated, figures, estimates, unknown, notLookedAt } = worth.data;
  return (
    <Section title="What it cost" aside="as far as anybody knows">
      <p>
        <b>{sayMoney(known, currency)}</b> by {figures} figures and {estimates} estimates, {sayMoney(ofThatEstimated, currency)}{' '}
        of it estimated.
      </p>
      <p>
        Not in that sum: {unknown} of unknown cost, {notLookedAt} that nobody has looked at yet.
      </p>
    </Section>
  );
}
