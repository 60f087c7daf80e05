import type { ConsumableSettings, ContainerOpened, ContainerPage } from '@corewright/contracts/consumables';
import type { Thing } from '@corewright/contracts/stores';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useWorksWithThings } from '../../../api/session.js';
import { Acts, Button } from '../../../ui/Button.js';
import { Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { sayInstant } from '../../../ui/say-when.js';
import { TextField } from '../../../ui/TextField.js';
import { Timeline } from '../../../ui/Timeline.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import styles from './Consumables.module.css';
import { ConsumablesCaution } from './ConsumablesCaution.js';
import { FoundForm, OpenActs } from './ContainerActs.js';
import { useReadUseBy } from './consumable-actions.js';
import { containerQuery } from './consumable-queries.js';
import { OpenForm } from './OpenForm.js';
import { UseByWords } from './UseByWords.js';

/** On the page of a lot: full, open or gone, up to when it may be used, and what is done with it. Nothing where it is no consumable. */
export function ContainerSection({ thing }: { readonly thing: Thing }) {
  const page = useQuery(containerQuery(thing.id));
  if (page.isError) return <Failure error={page.error} word="Not shown" />;
  if (page.data?.consumable === undefined || page.data.consumable === null) return null;
  return <Shown thing={thing} page={page.data} consumable={page.data.consumable} />;
}

interface ShownProps {
  readonly thing: Thing;
  readonly page: ContainerPage;
  readonly consumable: ConsumableSettings;
}

function Shown({ thing, page, consumable }: ShownProps) {
  return (
    <Section title="Container" aside={page.state === 'full' && thing.held !== '1' ? `${thing.held} full` : page.state}>
      <p>
        <Go href={`/stores/parts/${consumable.part.id}`}>{consumable.part.name}</Go>, by the {consumable.container}.{' '}
        {page.useBy !== null && <UseByWords useBy={page.useBy} />} {usesWords(page)}
      </p>
      <ContainerChanges thing={thing} page={page} consumable={consumable} />
      {page.events.length > 0 && (
        <Timeline
          label="What became of this container, newest first"
          entries={page.events.map((event) => ({
            id: `${event.at} ${event.kind}`,
            when: sayInstant(event.at, new Date()),
            words: `${event.by}: ${event.kind}${event.words === '' ? '' : `, ${event.words}`}`,
          }))}
        />
      )}
      <ConsumablesCaution />
    </Section>
  );
}

function usesWords({ uses, chargedInHundred }: ContainerPage): string {
  if (uses === 0) return '';
  const charged = chargedInHundred === null ? '' : `, ${chargedInHundred} in a hundred of its cost`;
  return `${uses === 1 ? '1 use is' : `${uses} uses are`} charged to jobs${charged}.`;
}

function ContainerChanges({ thing, page, consumable }: ShownProps) {
  const { which, open, close } = useOneForm<'open' | 'use-by' | 'found'>();
  const [opened, setOpened] = useState<ContainerOpened | null>(null);
  const worksWithThings = useWorksWithThings();
  const wasGone = page.events[0]?.kind === 'empty' || page.events[0]?.kind === 'thrown away';
  if (!worksWithThings) return null;
  const finish = (done: ContainerOpened) => {
    setOpened(done);
    close();
  };
  return (
    <>
      {opened !== null && <OpenedWords opened={opened} elsewhere={opened.thing.id !== thing.id} />}
      {page.state === 'open' && <OpenActs thingId={thing.id} code={thing.code} />}
      {which === 'open' && (
        <OpenForm
          what={`${consumable.part.name}, one ${consumable.container}`}
          thingId={thing.id}
          mayLabel={thing.held !== '1'}
          onOpened={finish}
          onClose={close}
        />
      )}
      {which === 'use-by' && <UseByForm thingId={thing.id} packet={page.packetUseBy} onClose={close} />}
      {which === 'found' && <FoundForm thingId={thing.id} onClose={close} />}
      {which === null && (
        <Acts>
          {page.state === 'full' && (
            <Button look="main" onPress={() => open('open')}>
              Open one
            </Button>
          )}
          {page.state !== 'gone' && <Button onPress={() => open('use-by')}>Use-by date of the packet</Button>}
          {page.state === 'gone' && wasGone && <Button onPress={() => open('found')}>Something is left in it</Button>}
        </Acts>
      )}
    </>
  );
}

/** What to write on the container, and where its own page is. */
export function OpenedWords({ opened, elsewhere }: { readonly opened: ContainerOpened; readonly elsewhere: boolean }) {
  return (
    <p role="status" className={styles.opened}>
      <b>Opened.</b> {opened.words} {opened.useBy.past && <UseByWords useBy={opened.useBy} />}
      {elsewhere && <Go href={`/stores/things/${opened.thing.id}`}>Look at the open one</Go>}
    </p>
  );
}

function UseByForm({
  thingId,
  packet,
  onClose,
}: {
  readonly thingId: string;
  readonly packet: string | null;
  readonly onClose: () => void;
}) {
  const [day, setDay] = useState(packet ?? '');
  const reading = useReadUseBy(thingId, onClose);
  const submit = () => {
    if (!reading.isPending) reading.mutate(day === '' ? null : day);
  };
  return (
    <Form label="Use-by date of the packet" onSubmit={submit}>
      <TextField
        label="Use by, as the packet says"
        type="date"
        value={day}
        onChange={setDay}
        note="of a month alone, its last day; empty where it says nothing"
      />
      <FormFoot act="Keep it" failed="Not kept" sending={reading} onClose={onClose} />
    </Form>
  );
}
