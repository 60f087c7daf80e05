import type { LoadPage } from '@corewright/contracts/goods-in';
import { useQuery } from '@tanstack/react-query';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { Waiting } from '../../ui/Empty.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead } from '../../ui/Section.js';
import { sayDayWithWeekday } from '../../ui/say-when.js';
import { TitleBlock } from '../../ui/TitleBlock.js';
import { CostSection } from './CostSection.js';
import { LabelRunPanel } from './LabelRunPanel.js';
import { LoadGrid } from './LoadGrid.js';
import { blankLabelsQuery, loadQuery } from './queries.js';

/** One load: its facts, its rows, its labels. */
export function LoadScreen({ loadId }: { readonly loadId: string }) {
  const load = useQuery(loadQuery(loadId));
  // a blank label may be scanned as soon as the rows stand there
  const blanks = useQuery(blankLabelsQuery);
  if (load.isPending || (blanks.isPending && blanks.fetchStatus === 'fetching')) return <Waiting>Fetching the load …</Waiting>;
  if (load.data === undefined)
    return (
      <Failure error={load.error} word="Not shown" choices={<Button onPress={() => void load.refetch()}>Try again</Button>} />
    );
  return <LoadShown load={load.data} />;
}

function LoadShown({ load }: { readonly load: LoadPage }) {
  const rows = load.rows.filter((row) => !row.struckOut);
  return (
    <>
      <PageHead
        title={`Load ${load.number}, ${load.words}`}
        note="Every row is kept as it is typed; it has its code as soon as the server has it."
        acts={
          <Acts>
            {rows.some((row) => row.kind === 'unit') && (
              <ButtonLink href={`/stores/yields?load=${load.id}`}>What came out of its cores</ButtonLink>
            )}
            <ButtonLink href="/goods-in">All loads</ButtonLink>
          </Acts>
        }
      />
      <TitleBlock
        facts={[
          { label: 'Bought from', value: load.seller },
          { label: 'Bought', value: sayDayWithWeekday(load.boughtOn) },
          { label: 'Rows', value: rows.length, note: kindsInWords(rows) },
          { label: 'Labels', value: load.unlabelled === 0 ? 'all printed' : `${load.unlabelled} to print` },
        ]}
      />
      <LoadGrid key={load.id} load={load} />
      <LabelRunPanel load={load} />
      <CostSection loadId={load.id} />
      <div style={{ marginTop: 32 }}>
        <CautionLine>
          Castings are heavy; old paint may hold lead, old linings and gaskets asbestos: keep damp, do not sweep dry or blow.
          Follow the maker’s manual, local codes and qualified practice.
        </CautionLine>
      </div>
    </>
  );
}

function kindsInWords(rows: LoadPage['rows']): string {
  const count = (kind: string) => rows.filter((row) => row.kind === kind).length;
  const say = (number: number, one: string, many: string) => (number === 0 ? '' : `${number} ${number === 1 ? one : many}`);
  return [say(count('unit'), 'unit', 'units'), say(count('lot'), 'lot', 'lots'), say(count('unsorted'), 'unsorted', 'unsorted')]
    .filter((words) => words !== '')
    .join(', ');
}
