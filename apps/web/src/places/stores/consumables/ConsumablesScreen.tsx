import type { ConsumablePage, ContainerOpened } from '@corewright/contracts/consumables';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useWorksWithThings } from '../../../api/session.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { sayDay } from '../../../ui/say-when.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import styles from './Consumables.module.css';
import { ConsumablesCaution } from './ConsumablesCaution.js';
import { OpenActs } from './ContainerActs.js';
import { OpenedWords } from './ContainerSection.js';
import { consumablesQuery } from './consumable-queries.js';
import { OpenForm } from './OpenForm.js';
import { UseByWords } from './UseByWords.js';

/** What goes by the container: how many are full, which are open, and up to when they may be used. */
export function ConsumablesScreen() {
  const list = useQuery(consumablesQuery);
  return (
    <>
      <PageHead
        title="Consumables"
        note="By the container: full, open or empty. In the mode “fit” a scan of one charges a use to the job."
        acts={
          <Acts>
            <ButtonLink href="/stores/to-buy">List to buy</ButtonLink>
            <ButtonLink href="/stores">All of Stores</ButtonLink>
          </Acts>
        }
      />
      {list.isPending && <Waiting>Fetching the consumables …</Waiting>}
      {list.isError && (
        <Failure error={list.error} word="Not shown" choices={<Button onPress={() => void list.refetch()}>Try again</Button>} />
      )}
      {list.data !== undefined && <List consumables={list.data.consumables} />}
      <ConsumablesCaution />
    </>
  );
}

function List({ consumables }: { readonly consumables: readonly ConsumablePage[] }) {
  if (consumables.length === 0)
    return (
      <Empty title="No consumable yet" choices={<ButtonLink href="/stores">To the search of Stores</ButtonLink>}>
        Look for sealant, thread-lock, grease or rags as a part, or write it down as a new part; then say on its page that it is a
        consumable.
      </Empty>
    );
  return (
    <Section title="In the workshop" aside={consumables.length === 1 ? '1 consumable' : `${consumables.length} consumables`}>
      {consumables.map((consumable) => (
        <Consumable key={consumable.settings.part.id} consumable={consumable} />
      ))}
    </Section>
  );
}

function Consumable({ consumable }: { readonly consumable: ConsumablePage }) {
  const { settings, open, fullCount } = consumable;
  return (
    <div className={styles.one}>
      <div className={styles.head}>
        <h3 className={styles.name}>
          <Go href={`/stores/parts/${settings.part.id}`}>{settings.part.name}</Go>
        </h3>
        <span className={styles.counts}>
          <span>
            <b>{fullCount}</b> full
          </span>
          <span>
            <b>{open.length}</b> open
          </span>
          <span className="quiet">by the {settings.container}</span>
        </span>
      </div>
      <Containers consumable={consumable} />
    </div>
  );
}

/** The open ones with what becomes of them, and the full ones, of which one is opened. */
export function Containers({ consumable }: { readonly consumable: ConsumablePage }) {
  const { settings, open, full } = consumable;
  const { which: opening, open: begin, close } = useOneForm<string>();
  const [opened, setOpened] = useState<ContainerOpened | null>(null);
  const worksWithThings = useWorksWithThings();
  const done = (answer: ContainerOpened) => {
    setOpened(answer);
    close();
  };
  return (
    <>
      {opened !== null && <OpenedWords opened={opened} elsewhere />}
      {open.map(({ thing, where, openedOn, openedBy, useBy }) => (
        <div key={thing.id} className={styles.container}>
          <span>
            <b>open</b>{' '}
            <Go href={`/stores/things/${thing.id}`}>
              <Code code={thing.code} size="row" />
            </Go>{' '}
            {where}; {openedOn === null ? 'nobody knows since when' : `since ${sayDay(openedOn)}`}, {openedBy}
          </span>
          <UseByWords useBy={useBy} />
          {worksWithThings && <OpenActs thingId={thing.id} code={thing.code} />}
        </div>
      ))}
      {full.map(({ thing, quantity, where, useBy }) => (
        <div key={thing.id} className={styles.container}>
          <span>
            {quantity} <b>full</b>{' '}
            <Go href={`/stores/things/${thing.id}`}>
              <Code code={thing.code} size="row" />
            </Go>{' '}
            {where}
          </span>
          <UseByWords useBy={useBy} />
          {opening === thing.id && (
            <OpenForm
              what={`${settings.part.name}, one ${settings.container}`}
              thingId={thing.id}
              mayLabel={quantity !== '1'}
              onOpened={done}
              onClose={close}
            />
          )}
          {worksWithThings && opening !== thing.id && (
            <Acts>
              <Button label={`Open one of ${thing.code}`} onPress={() => begin(thing.id)}>
                Open one
              </Button>
            </Acts>
          )}
        </div>
      ))}
      {open.length + full.length === 0 && <p className="quiet">None is here. What was bought is keyed in Goods-in.</p>}
    </>
  );
}
