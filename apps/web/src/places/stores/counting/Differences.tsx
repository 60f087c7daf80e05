import type { CountDifferences, CountLine } from '@corewright/contracts/counting';
import { useQuery } from '@tanstack/react-query';
import { Button } from '../../../ui/Button.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { sayMoney } from '../../../ui/say-money.js';
import { useDecideLines } from './actions.js';
import styles from './Counting.module.css';
import { DifferenceRow } from './DifferenceRow.js';
import { proposalOf } from './proposal.js';
import { differencesQuery } from './queries.js';

/** What differs, for those who post it: nothing of a place before somebody has said that everything there is scanned. */
export function Differences({ countId }: { readonly countId: string }) {
  const answer = useQuery(differencesQuery(countId));
  if (answer.isPending) return <Waiting>Comparing with the books …</Waiting>;
  if (answer.data === undefined) return <Failure error={answer.error} word="Not compared" />;
  const { lines, agreed, open, notClosed, currency } = answer.data;
  return (
    <Section title="What differs" aside={asideOf(answer.data)}>
      {notClosed.length > 0 && (
        <p className="quiet">
          Nothing is compared yet of {notClosed.slice(0, 5).join('; ')}
          {notClosed.length > 5 && `; and ${notClosed.length - 5} more`}: not all is scanned there.
        </p>
      )}
      {lines.length === 0 ? (
        <Empty title={agreed === 0 ? 'Nothing to compare yet' : 'All agrees'}>
          {agreed === 0
            ? 'When somebody has said of a place that everything there is scanned, what differs stands here.'
            : `${agreed === 1 ? 'The one line that was' : `All ${agreed} lines that were`} counted agreed with the books. The count can be closed.`}
        </Empty>
      ) : (
        <>
          <All countId={countId} lines={lines} open={open} />
          {lines.map((line) => (
            <DifferenceRow key={`${line.place.id} ${line.thing.id}`} countId={countId} line={line} currency={currency} />
          ))}
        </>
      )}
    </Section>
  );
}

function asideOf({ agreed, open, worth, unknownWorth, currency, lines }: CountDifferences): string {
  if (lines.length === 0) return `${agreed} agreed`;
  const known = `${sayMoney(worth, currency)} as far as it is known`;
  const unknown = unknownWorth === 0 ? '' : `, ${unknownWorth} of which nobody knows the cost`;
  return `${open} open, ${agreed} agreed; ${known}${unknown}`;
}

function All({
  countId,
  lines,
  open,
}: {
  readonly countId: string;
  readonly lines: readonly CountLine[];
  readonly open: number;
}) {
  const proposed = lines.flatMap((line) => proposalOf(line) ?? []);
  const decide = useDecideLines(countId, () => undefined);
  if (proposed.length < 2) return null;
  return (
    <div className={styles.all}>
      <p className="quiet">
        {proposed.length} of {open} have a first choice that needs nothing more from you: it stands as the first button of each.
        All of them are done together, or none.
      </p>
      {decide.isError && <Failure error={decide.error} word="Not posted" />}
      <Button isPending={decide.isPending} onPress={() => decide.mutate(proposed)}>
        Do the first choice of all {proposed.length}
      </Button>
    </div>
  );
}
