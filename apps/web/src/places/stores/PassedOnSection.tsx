import { PassedOn, type ShareLoadCost } from '@corewright/contracts/costs';
import { queryOptions, useQuery } from '@tanstack/react-query';
import { api } from '../../api/client.js';
import { useKeepsBooks } from '../../api/session.js';
import { newKey } from '../../api/uuid.js';
import { Waiting } from '../../ui/Empty.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { sayMoney } from '../../ui/say-money.js';
import { sayInstant } from '../../ui/say-when.js';
import { TitleBlock } from '../../ui/TitleBlock.js';
import styles from '../goods-in/CostSection.module.css';
import { useCostChange, useWorthKeeper } from '../goods-in/cost-actions.js';
import { ShareForm } from '../goods-in/ShareForm.js';
import { OutOfDate, Sharings } from '../goods-in/Sharings.js';

/** What a unit or a box bore, and what of it was passed on. Only for those who keep the books. */
const passedOnQuery = (wholeId: string) =>
  queryOptions({
    queryKey: ['stores', 'thing', wholeId, 'passed-on'],
    queryFn: ({ signal }) => api.get(PassedOn, `/api/things/${wholeId}/passed-on`, { signal }),
  });

/** What a unit or a box cost goes with what came out of it: the sharing, who shared it how, and the act that shares it anew. */
export function PassedOnSection({ wholeId }: { readonly wholeId: string }) {
  return useKeepsBooks() ? <KeptPassedOn wholeId={wholeId} /> : null;
}

function KeptPassedOn({ wholeId }: { readonly wholeId: string }) {
  const passed = useQuery(passedOnQuery(wholeId));
  const last = passed.data?.sharings[0];
  // nothing has come out of it: there is nothing to pass on, and nothing to say
  if (passed.data !== undefined && passed.data.rows.length < 2 && last === undefined) return null;
  return (
    <Section
      title="Its cost, passed on"
      aside={last === undefined ? 'not passed on yet' : `shared ${sayInstant(last.at, new Date())} by ${last.by}`}
    >
      {passed.isPending && <Waiting>Fetching what it passed on …</Waiting>}
      {passed.isError && <Failure error={passed.error} word="Not shown" />}
      {passed.data !== undefined && <PassedOnShown passed={passed.data} />}
    </Section>
  );
}

function PassedOnShown({ passed }: { readonly passed: PassedOn }) {
  const { queryKey } = passedOnQuery(passed.id);
  const path = `/api/things/${passed.id}/passed-on`;
  const share = useCostChange(queryKey, nothing, (sharing: ShareLoadCost) =>
    api.send(PassedOn, 'POST', path, sharing, { key: newKey() }),
  );
  const keepWorth = useWorthKeeper<PassedOn>(queryKey, (partId, worth, ifMatch) =>
    api.send(PassedOn, 'PUT', `${path}/${partId}/worth`, worth, { key: newKey(), ifMatch }),
  );
  const { bore, kept, ours } = passed;
  if (passed.cannot !== null) return <p>{passed.cannot}</p>;
  const cost = { ...passed, cost: bore };
  return (
    <div className={styles.stack}>
      <TitleBlock
        facts={[
          { label: 'It bore', value: bore === null ? 'not known' : sayMoney(bore, ours) },
          { label: 'It keeps', value: kept === null ? 'not known' : sayMoney(kept, ours) },
        ]}
      />
      <OutOfDate reasons={passed.outOfDate} />
      <ShareForm cost={cost} label="Pass its cost on" keepWorth={keepWorth} share={share} />
      {passed.sharings.length > 0 && <Sharings cost={cost} />}
    </div>
  );
}

const nothing = () => undefined;
