import type { OwnersGoods } from '@corewright/contracts/goods-apart';
import { useQuery } from '@tanstack/react-query';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { dayOf, sayDay } from '../../../ui/say-when.js';
import styles from './Apart.module.css';
import { notOursQuery } from './apart-queries.js';

export interface NotOursScreenProps {
  /** one owner, whose list can be printed and signed; empty: everybody */
  readonly ownerId: string;
}

/** What lies here and belongs to others, owner by owner. It is counted with nothing of ours. */
export function NotOursScreen({ ownerId }: NotOursScreenProps) {
  const notOurs = useQuery(notOursQuery(ownerId));
  const isOne = ownerId !== '';
  return (
    <>
      <PageHead
        title={isOne ? 'What of yours lies here' : 'Not ours'}
        note={
          isOne
            ? 'For its owner: what lies here, since when, and for which job. To be signed when it is handed over.'
            : 'What belongs to customers, and what nobody knows whose it is. It is never counted, valued or promised as ours.'
        }
        acts={
          <Acts>
            {isOne && (
              <Button look="main" onPress={() => print()}>
                Print it
              </Button>
            )}
            <ButtonLink href={isOne ? '/stores/not-ours' : '/stores'}>{isOne ? 'All owners' : 'All of Stores'}</ButtonLink>
            {!isOne && <ButtonLink href="/stores/kept-for-owners">Kept for their owners</ButtonLink>}
          </Acts>
        }
      />
      {notOurs.isPending && <Waiting>Fetching what is not ours …</Waiting>}
      {notOurs.isError && (
        <Failure
          error={notOurs.error}
          word="Not shown"
          choices={<Button onPress={() => void notOurs.refetch()}>Try again</Button>}
        />
      )}
      {notOurs.data !== undefined && notOurs.data.owners.length === 0 && (
        <Empty title={isOne ? 'Nothing of theirs lies here' : 'Everything here is ours'}>
          What a customer brings is taken in with them as its owner, in Goods-in; it then stands here by their name.
        </Empty>
      )}
      {notOurs.data?.owners.map((goods) => (
        <OwnerShown key={goods.owner.id} goods={goods} today={notOurs.data.today} isSheet={isOne} />
      ))}
    </>
  );
}

function OwnerShown({
  goods,
  today,
  isSheet,
}: {
  readonly goods: OwnersGoods;
  readonly today: string;
  readonly isSheet: boolean;
}) {
  const { owner, isKnown, things } = goods;
  return (
    <Section
      className={styles.owner}
      title={isKnown ? owner.name : 'Nobody knows whose'}
      aside={isSheet ? `on ${sayDay(today)}` : things.length === 1 ? '1 thing' : `${things.length} things`}
    >
      {!isSheet && isKnown && (
        <div className={styles.acts}>
          <Acts>
            <ButtonLink href={`/stores/not-ours?owner=${owner.id}`}>A list for {owner.name}</ButtonLink>
          </Acts>
        </div>
      )}
      <ul aria-label={isKnown ? `Of ${owner.name}` : 'Of nobody known'}>
        {things.map((thing) => (
          <li key={thing.id} className={styles.row}>
            <div>
              <Go href={`/stores/things/${thing.id}`}>
                <Code code={thing.code} size="row" /> <b>{thing.name}</b>
              </Go>
              <div className="quiet">{thing.kind === 'lot' ? `${thing.quantity} of them` : thing.kind}</div>
            </div>
            <div>
              {thing.where}
              <div className="quiet">here since {sayDay(dayOf(thing.since))}</div>
            </div>
            <div>
              {thing.jobs.length === 0
                ? 'on no job'
                : thing.jobs.map((job) => (
                    <Go key={job.id} href={`/jobs/${job.id}`}>
                      <Code code={job.code} size="row" /> {job.name}
                    </Go>
                  ))}
            </div>
            <div>
              {thing.standing.map((words) => (
                <div key={words}>
                  <b>{words}</b>
                </div>
              ))}
              {thing.note !== '' && <span className="quiet">{thing.note}</span>}
            </div>
          </li>
        ))}
      </ul>
      {isSheet && (
        <div className={styles.sign}>
          <span>Taken over by {owner.name}: day, name, signature</span>
          <span>Handed over by: day, name, signature</span>
        </div>
      )}
    </Section>
  );
}
