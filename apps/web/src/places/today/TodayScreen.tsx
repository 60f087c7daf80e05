import type { Today, TodayItem } from '@corewright/contracts/today';
import { useQuery } from '@tanstack/react-query';
import { Button, ButtonLink } from '../../ui/Button.js';
import { classNames } from '../../ui/class-names.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Failure } from '../../ui/Problem.js';
import { sayDayAloud } from '../../ui/say-when.js';
import { MiniTag } from '../../ui/Tag.js';
import { warningsQuery } from '../warnings/queries.js';
import { SettledLately, WarningsOnToday } from '../warnings/WarningsOnToday.js';
import { NotSent } from './NotSent.js';
import { todayQuery } from './queries.js';
import { Ruler } from './Ruler.js';
import styles from './TodayScreen.module.css';

type SectionName = TodayItem['section'];
const sections: readonly { readonly name: SectionName; readonly title: string; readonly grave: boolean }[] = [
  { name: 'dates in danger', title: 'Dates in danger', grave: true },
  { name: 'critical and lacking', title: 'Critical and lacking', grave: false },
  { name: 'coming late', title: 'Coming late', grave: false },
  { name: 'stores', title: 'Stores', grave: false },
];

const noWarnings = { open: [], openTotal: 0, settled: [] };

/** What needs a person now, the gravest first, with the coming days above it. */
export function TodayScreen() {
  const { data, error, refetch } = useQuery(todayQuery);
  const warnings = useQuery(warningsQuery).data ?? noWarnings;
  if (data === undefined && error === null) return <Waiting>What needs a person is being gathered.</Waiting>;
  if (data === undefined) {
    return <Failure word="Not shown" error={error} choices={<Button onPress={() => void refetch()}>Ask again</Button>} />;
  }
  return (
    <>
      <div className={styles.head}>
        <h1>{sayDayAloud(data.day)}</h1>
        <p className="read">{summaryOf(data, warnings.openTotal)}</p>
      </div>
      <Ruler today={data} />
      <div className={styles.columns}>
        <div>
          <WarningsOnToday warnings={warnings} />
          {data.items.length === 0 && warnings.openTotal === 0 && <NothingToDo />}
          {sections.map((section) => (
            <Group key={section.name} {...section} items={data.items} before={warnings.open.length} />
          ))}
        </div>
        <aside>
          <NotSent />
          <div>
            <SettledLately settled={warnings.settled} />
          </div>
        </aside>
      </div>
    </>
  );
}

/** "Eleven things need a person. Two of them are dates that customers count on." */
function summaryOf({ items }: Today, warnings: number): string {
  const count = items.length + warnings;
  if (count === 0) return 'Nothing needs a person now.';
  const dates = items.filter((item) => item.section === 'dates in danger').length;
  const all = `${sayCount(count)} ${count === 1 ? 'thing needs' : 'things need'} a person.`;
  if (dates === 0) return all;
  return `${all} ${sayCount(dates)} of them ${dates === 1 ? 'is a date' : 'are dates'} that customers count on.`;
}

const numberWords = ['None', 'One', 'Two', 'Three', 'Four', 'Five', 'Six', 'Seven', 'Eight', 'Nine', 'Ten', 'Eleven', 'Twelve'];
const sayCount = (count: number): string => numberWords[count] ?? String(count);

function NothingToDo() {
  return (
    <Empty title="Nothing needs a person now" choices={<ButtonLink href="/goods-in">To Goods-in</ButtonLink>}>
      Dates that slip, parts that are lacking, receipts that are late and goods without labels will stand here. A new workshop
      begins with a load in Goods-in, or with its own files in Settings.
    </Empty>
  );
}

interface GroupProps {
  readonly name: SectionName;
  readonly title: string;
  readonly grave: boolean;
  readonly items: readonly TodayItem[];
  /** how many are counted before the first section */
  readonly before: number;
}

/** One section. Items keep one count over the whole page, so that people can say "number seven". */
function Group({ name, title, grave, items, before }: GroupProps) {
  const own = items.filter((item) => item.section === name);
  if (own.length === 0) return null;
  const earlier = sections
    .slice(
      0,
      sections.findIndex((section) => section.name === name),
    )
    .map((section) => section.name);
  const first = before + items.filter((item) => earlier.includes(item.section)).length + 1;
  const id = `today-${name.replaceAll(' ', '-')}`;
  return (
    <section className={classNames(styles.group, grave && styles.grave)} aria-labelledby={id}>
      <h2 id={id}>
        {title} <span className={styles.count}>{own.length}</span>
      </h2>
      <ol start={first}>
        {own.map((item, index) => (
          <Item key={item.id} item={item} number={first + index} grave={grave} />
        ))}
      </ol>
    </section>
  );
}

function Item({ item, number, grave }: { readonly item: TodayItem; readonly number: number; readonly grave: boolean }) {
  return (
    <li className={styles.item}>
      <span className={styles.number} aria-hidden="true">
        {number}
      </span>
      <div>{item.tag !== null && <MiniTag code={item.tag.code} href={item.action.path} />}</div>
      <div className={styles.text}>
        <h3>{item.title}</h3>
        <p>{item.reason}</p>
      </div>
      <div className={styles.act}>
        <ButtonLink href={item.action.path} look={grave ? 'main' : 'usual'}>
          {item.action.words}
        </ButtonLink>
      </div>
    </li>
  );
}
