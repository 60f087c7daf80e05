import type { Sale, SaleCosts, SaleLine } from '@corewright/contracts/selling';
import { useQuery } from '@tanstack/react-query';
import { useKeepsBooks } from '../../../api/session.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { CautionLine } from '../../../ui/CautionLine.js';
import { Waiting } from '../../../ui/Empty.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { sayMoney } from '../../../ui/say-money.js';
import { sayDay } from '../../../ui/say-when.js';
import { MiniTag } from '../../../ui/Tag.js';
import { TitleBlock } from '../../../ui/TitleBlock.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import styles from './Counter.module.css';
import { saleCostsQuery, saleQuery } from './queries.js';
import { TakeBackForm } from './TakeBackForm.js';

/** One sale: its receipt, what stands on it, what came back; and what it cost, for those who keep the books. */
export function SaleScreen({ saleId }: { readonly saleId: string }) {
  const sale = useQuery(saleQuery(saleId));
  const keepsBooks = useKeepsBooks();
  const costs = useQuery({ ...saleCostsQuery(saleId), enabled: keepsBooks });
  if (sale.isPending) return <Waiting>Fetching the receipt …</Waiting>;
  if (sale.data === undefined)
    return (
      <Failure error={sale.error} word="Not shown" choices={<Button onPress={() => void sale.refetch()}>Try again</Button>} />
    );
  return <SaleShown sale={sale.data} costs={costs.data} mayTakeBack={keepsBooks} />;
}

interface SaleShownProps {
  readonly sale: Sale;
  readonly costs: SaleCosts | undefined;
  readonly mayTakeBack: boolean;
}

function SaleShown({ sale, costs, mayTakeBack }: SaleShownProps) {
  const { id, number, on, by, buyer, paid, note, currency, total, givenBack, takenBack } = sale;
  const back =
    takenBack === 'no'
      ? null
      : `taken back ${takenBack === 'all' ? 'all' : 'in part'}: ${sayMoney(givenBack, currency)} given back`;
  return (
    <>
      <PageHead
        title={`Receipt ${number}`}
        note={`Sold ${sayDay(on)} by ${by}`}
        acts={
          <Acts>
            <ButtonLink look="main" href={`/api/sales/${id}/receipt.pdf`} opensDocument>
              The receipt, A4
            </ButtonLink>
            <ButtonLink href={`/api/sales/${id}/receipt.pdf?paper=roll`} opensDocument>
              On a narrow roll
            </ButtonLink>
            <ButtonLink href="/stores/sell">Another sale</ButtonLink>
            <ButtonLink href="/stores/sales">What was sold</ButtonLink>
          </Acts>
        }
      />
      <TitleBlock
        facts={[
          { label: 'Total', value: sayMoney(total, currency), note: back },
          { label: 'Sold to', value: buyer === '' ? 'nobody named' : buyer },
          { label: 'Paid', value: paid === '' ? 'not said' : paid },
        ]}
      />
      {note !== '' && <p className="read">{note}</p>}
      <Section title="What was sold">
        <ul>
          {sale.lines.map((line) => (
            <Line
              key={line.id}
              sale={sale}
              line={line}
              cost={costs?.lines.find(({ lineId }) => lineId === line.id)}
              mayTakeBack={mayTakeBack}
            />
          ))}
        </ul>
      </Section>
      <CautionLine>
        Driveline parts bear on safety on the road. Whoever fits them follows the maker’s manual and local codes, and is qualified
        for it. The receipt says so too.
      </CautionLine>
    </>
  );
}

interface LineProps {
  readonly sale: Sale;
  readonly line: SaleLine;
  readonly cost: SaleCosts['lines'][number] | undefined;
  readonly mayTakeBack: boolean;
}

function Line({ sale, line, cost, mayTakeBack }: LineProps) {
  const { which, open, close } = useOneForm<'take back'>();
  const { thing, quantity, unitOfMeasure, words, said, price, letGo, returns } = line;
  const many = unitOfMeasure === 'each' ? quantity : `${quantity} ${unitOfMeasure}`;
  const isAllBack = sale.takenBack === 'all';
  return (
    <li className={styles.line} aria-label={`${words}, ${thing.code}`}>
      <div className={styles.head}>
        <MiniTag code={thing.code} href={`/stores/things/${thing.id}`} />
        <span>
          {many} × <b>{words}</b>
        </span>
        <b>{sayMoney(price, sale.currency)}</b>
      </div>
      <span className={styles.said}>
        {said}
        {letGo !== null && `; let go by ${letGo.by}`}
      </span>
      {cost !== undefined && <span className={styles.said}>{costWords(cost, sale.currency)}</span>}
      {returns.map((each) => (
        <p key={each.id}>
          Taken back {sayDay(each.on)} by {each.by}: {each.quantity}, {each.why}; {sayMoney(each.givenBack, sale.currency)} given
          back
          {each.money !== '' && `, ${each.money}`}
          {each.fitted && '; it was fitted meanwhile'}{' '}
          {each.newLot !== null && <MiniTag code={each.newLot.code} href={`/stores/things/${each.newLot.id}`} />}
        </p>
      ))}
      {mayTakeBack && !isAllBack && which === null && (
        <Button look="plain" label={`Take back ${thing.code}`} onPress={() => open('take back')}>
          It comes back
        </Button>
      )}
      {which !== null && <TakeBackForm sale={sale} line={line} onClose={close} />}
    </li>
  );
}

function costWords({ cost, margin }: SaleCosts['lines'][number], currency: string): string {
  if (cost === null || margin === null) return 'What it cost is unknown, so is the margin.';
  return `It cost ${sayMoney(cost, currency)}; margin ${sayMoney(margin, currency)}.`;
}
