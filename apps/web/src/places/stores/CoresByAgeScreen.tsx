import type { CoreAge, CoreAges, CoreWorth, CoreWorths } from '@corewright/contracts/core-ages';
import { useQuery } from '@tanstack/react-query';
import { useKeepsBooks } from '../../api/session.js';
import { Button, ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { classNames } from '../../ui/class-names.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { FieldPair } from '../../ui/Form.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead, Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { sayMoney } from '../../ui/say-money.js';
import { sayDay } from '../../ui/say-when.js';
import { useOneForm } from '../../ui/use-one-form.js';
import { VirtualList } from '../../ui/VirtualList.js';
import styles from './CoresByAge.module.css';
import { coreAgesQuery, coreWorthsQuery } from './core-queries.js';
import type { CoresAsked } from './cores-asked.js';
import { ReviewCoreForm } from './ReviewCoreForm.js';

export interface CoresByAgeScreenProps {
  readonly asked: CoresAsked;
  readonly onAsk: (asked: CoresAsked) => void;
}

/** How long cores have lain in the yard, which of them somebody is to look through, and what they are worth. */
export function CoresByAgeScreen({ asked, onAsk }: CoresByAgeScreenProps) {
  const keeps = useKeepsBooks();
  const ages = useQuery(coreAgesQuery);
  return (
    <>
      <PageHead
        title="Cores by age"
        note="Cores of ours that lie here and are on no job. The longer one lies, the more it wants somebody to say what becomes of it."
        acts={<ButtonLink href="/stores">All of Stores</ButtonLink>}
      />
      <FieldPair>
        <SelectField
          label="Show"
          value={asked.show}
          choices={[
            { value: 'all', label: 'all of them' },
            { value: 'due', label: 'those to be looked through' },
          ]}
          onChange={(show) => onAsk({ ...asked, show })}
        />
        {keeps && (
          <SelectField
            label="First"
            value={asked.order}
            choices={[
              { value: 'age', label: 'the oldest' },
              { value: 'worth', label: 'those worth most whole' },
            ]}
            onChange={(order) => onAsk({ ...asked, order })}
          />
        )}
      </FieldPair>
      {ages.isPending && <Waiting>Looking through the yard …</Waiting>}
      {ages.isError && <Failure error={ages.error} word="Not shown" />}
      {ages.data !== undefined &&
        (keeps ? <WithWorths ages={ages.data} asked={asked} /> : <Cores ages={ages.data} asked={asked} worths={null} />)}
    </>
  );
}

function WithWorths({ ages, asked }: { readonly ages: CoreAges; readonly asked: CoresAsked }) {
  const worths = useQuery(coreWorthsQuery);
  return (
    <>
      {worths.isPending && <Waiting>Weighing what they are worth …</Waiting>}
      {worths.isError && <Failure error={worths.error} word="Not weighed" />}
      <Cores ages={ages} asked={asked} worths={worths.data ?? null} />
    </>
  );
}

interface Weighed {
  readonly core: CoreAge;
  readonly worth: CoreWorth | null;
  readonly currency: string;
}

function Cores({
  ages,
  asked,
  worths,
}: {
  readonly ages: CoreAges;
  readonly asked: CoresAsked;
  readonly worths: CoreWorths | null;
}) {
  const shown = weighedOf(ages, worths, asked);
  const due = ages.due === 1 ? '1 to be looked through' : `${ages.due} to be looked through`;
  return (
    <Section
      title={asked.order === 'worth' ? 'Those worth most first' : 'The oldest first'}
      aside={`${due}${ages.more ? '; there are more than are shown' : ''}`}
    >
      {shown.length === 0 ? (
        <Empty title="None">
          {ages.cores.length === 0
            ? 'No core lies here. They come in through Goods-in.'
            : `No core has passed its mark of ${ages.marks.firstMonths} months without being looked through.`}
        </Empty>
      ) : (
        <VirtualList label="Cores" items={shown} itemKey={({ core }) => core.id} estimate={104}>
          {(weighed) => <Core {...weighed} nextOffered={ages.nextOffered} />}
        </VirtualList>
      )}
    </Section>
  );
}

function weighedOf({ cores }: CoreAges, worths: CoreWorths | null, { show, order }: CoresAsked): Weighed[] {
  const byId = new Map(worths?.cores.map((worth) => [worth.id, worth]));
  const weighed = cores
    .filter((core) => show === 'all' || isDue(core))
    .map((core) => ({ core, worth: byId.get(core.id) ?? null, currency: worths?.currency ?? '' }));
  // what nobody knows the worth of comes last
  const amount = ({ worth }: Weighed) =>
    worth?.whole === undefined || worth.whole === null ? Number.NEGATIVE_INFINITY : Number(worth.whole);
  return order === 'age'
    ? weighed
    : weighed.toSorted((one, other) => (amount(other) === amount(one) ? 0 : amount(other) - amount(one)));
}

function isDue({ standing }: CoreAge): boolean {
  return standing !== 'not yet' && standing !== 'looked through';
}

function Core({ core, worth, currency, nextOffered }: Weighed & { readonly nextOffered: string }) {
  const { which, open, close } = useOneForm<'review'>();
  const keeps = useKeepsBooks();
  return (
    <div className={styles.core}>
      <div>
        <Go href={`/stores/things/${core.id}`}>
          <Code code={core.code} size="row" /> <b>{core.name}</b>
        </Go>
        <div className="quiet">
          {[core.grade === '' ? 'not graded' : `grade ${core.grade}`, core.where, core.isPromised ? 'promised' : '']
            .filter(Boolean)
            .join(', ')}
        </div>
      </div>
      <Standing core={core} />
      <div className={styles.worth}>{worth !== null && <Worth worth={worth} currency={currency} />}</div>
      <div>
        {keeps && which === null && (
          <Button label={`Look it through, ${core.code}`} onPress={() => open('review')}>
            Look it through
          </Button>
        )}
      </div>
      {which !== null && (
        <div className={styles.form}>
          <ReviewCoreForm core={core} nextOffered={nextOffered} onClose={close} />
        </div>
      )}
    </div>
  );
}

function Standing({ core }: { readonly core: CoreAge }) {
  const { months, standing, dueOn, review, since, sinceWords } = core;
  return (
    <div className={styles.standing}>
      <b className={classNames(isDue(core) && styles.due)}>{months === 1 ? '1 month' : `${months} months`}</b>
      <span>
        {standing === 'not yet' && `first mark on ${sayDay(dueOn)}`}
        {standing === 'looked through' && `again on ${sayDay(dueOn)}`}
        {isDue(core) && `${standing}, ${sayDay(dueOn)}`}
      </span>
      <div className="quiet">
        {sinceWords} {sayDay(since)}
        {review !== null && `; ${review.by}: ${review.decided}, ${review.note}`}
      </div>
    </div>
  );
}

function Worth({ worth, currency }: { readonly worth: CoreWorth; readonly currency: string }) {
  return (
    <>
      <div>
        {worth.whole !== null && <b>{sayMoney(worth.whole, currency)} whole, </b>}
        <span className="quiet">{worth.whole === null ? `worth whole ${worth.wholeWords}` : worth.wholeWords}</span>
      </div>
      {worth.wanted.length > 0 && (
        <ul aria-label="What open jobs lack of it">
          {worth.wanted.map(({ part, pieces, worth: amount, words }) => (
            <li key={part.id}>
              {pieces} of{' '}
              <Go href={`/stores/parts/${part.id}`}>{part.number === '' ? part.name : `${part.number}, ${part.name}`}</Go>:{' '}
              {amount === null ? 'worth not known' : sayMoney(amount, currency)} <span className="quiet">{words}</span>
            </li>
          ))}
        </ul>
      )}
      <div className={classNames(worth.isBetterBroken && styles.better)}>{worth.words}</div>
    </>
  );
}
