import type { KeptForOwner, KeptForOwners } from '@corewright/contracts/goods-apart';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useKeepsBooks, useWorksWithThings } from '../../../api/session.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { CautionLine } from '../../../ui/CautionLine.js';
import { Code } from '../../../ui/Code.js';
import { classNames } from '../../../ui/class-names.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Fold } from '../../../ui/Fold.js';
import { Go } from '../../../ui/Go.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { sayDay } from '../../../ui/say-when.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import styles from './Apart.module.css';
import { keptQuery } from './apart-queries.js';
import { FoundPropertyForm } from './FoundPropertyForm.js';
import { EndForm, NoteForm } from './KeptForms.js';

/** Found property, and what waits to be collected or decided on; overdue first. */
export function KeptForOwnersScreen() {
  const kept = useQuery(keptQuery);
  const works = useWorksWithThings();
  const finding = useOneForm<'found'>();
  const [last, setLast] = useState<KeptForOwner | null>(null);
  return (
    <>
      <PageHead
        title="Kept for their owners"
        note="Found property, and what waits to be collected or decided on. It serves no job and is never counted as ours."
        acts={
          <Acts>
            {works && finding.which === null && (
              <Button look="main" onPress={() => finding.open('found')}>
                Something was found
              </Button>
            )}
            <ButtonLink href="/stores/not-ours">All that is not ours</ButtonLink>
          </Acts>
        }
      />
      <CautionLine>
        Goods that nobody claims have their own law, and it differs by country: hold them, tag them, write to whoever may own
        them, and take advice before anything is sold, given away or scrapped.
      </CautionLine>
      {finding.which !== null && (
        <div className={styles.entry}>
          <FoundPropertyForm
            onDone={(found) => {
              setLast(found);
              finding.close();
            }}
            onClose={finding.close}
          />
        </div>
      )}
      {last !== null && (
        <p role="status" className={styles.entry}>
          {last.thing.name} is <Go href={`/stores/things/${last.thing.id}`}>{last.thing.code}</Go> now.{' '}
          <Go href={`/labels/${last.thing.code}`}>Print its tag</Go>, and photograph it on its page.
        </p>
      )}
      {kept.isPending && <Waiting>Fetching what is kept …</Waiting>}
      {kept.isError && (
        <Failure error={kept.error} word="Not shown" choices={<Button onPress={() => void kept.refetch()}>Try again</Button>} />
      )}
      {kept.data !== undefined && <KeptShown kept={kept.data} />}
    </>
  );
}

function KeptShown({ kept: { kept, ended } }: { readonly kept: KeptForOwners }) {
  const due = kept.filter(({ standing }) => standing !== 'later').length;
  return (
    <>
      <Section title="Waiting" aside={due === 0 ? `${kept.length}` : `${due} to look at again`}>
        {kept.length === 0 ? (
          <Empty title="Nothing waits">
            What turns up and is nobody’s is written down with “Something was found”. A customer’s thing that waits for them is
            kept from its own page.
          </Empty>
        ) : (
          <ul aria-label="Waiting">
            {kept.map((each) => (
              <li key={each.id}>
                <Kept kept={each} />
              </li>
            ))}
          </ul>
        )}
      </Section>
      {ended.length > 0 && (
        <Fold summary={`What has become of others, ${ended.length}`}>
          <ul aria-label="What has become of others">
            {ended.map((each) => (
              <li key={each.id} className={styles.row}>
                <Named kept={each} />
                <div>
                  <b>{each.ended?.how}</b>
                  <div className="quiet">
                    {each.ended?.words}; {each.ended?.by}
                  </div>
                </div>
                <span className="quiet">since {sayDay(each.since)}</span>
              </li>
            ))}
          </ul>
        </Fold>
      )}
    </>
  );
}

function Named({ kept }: { readonly kept: KeptForOwner }) {
  return (
    <div>
      <Go href={`/stores/things/${kept.thing.id}`}>
        <Code code={kept.thing.code} size="row" /> <b>{kept.thing.name}</b>
      </Go>
      <div className="quiet">
        {kept.kind}, {kept.owner === null ? 'nobody knows whose' : kept.owner.name}
        {kept.pictures === 0 && kept.ended === null && '; not photographed yet'}
      </div>
    </div>
  );
}

function Kept({ kept }: { readonly kept: KeptForOwner }) {
  const { which, open, close } = useOneForm<'note' | 'end'>();
  const works = useWorksWithThings();
  const keeps = useKeepsBooks();
  const isDue = kept.standing !== 'later';
  return (
    <div className={styles.row}>
      <Named kept={kept} />
      <div>
        {kept.words === kept.thing.name ? null : kept.words}
        <div className="quiet">
          {kept.where}, since {sayDay(kept.since)}
          {kept.foundWhere !== '' && `; found ${kept.foundWhere} by ${kept.foundBy}`}
          {kept.askWhom !== '' && `; ask ${kept.askWhom}`}
        </div>
      </div>
      <div className={classNames(isDue && styles.due)}>
        {isDue ? (
          <b>
            {kept.standing === 'overdue' ? 'overdue' : 'today'}, look again {sayDay(kept.lookAgainOn)}
          </b>
        ) : (
          `look again on ${sayDay(kept.lookAgainOn)}`
        )}
      </div>
      <div className={styles.acts}>
        <Acts>
          {works && which !== 'note' && (
            <Button label={`What was said: ${kept.thing.code}`} onPress={() => open('note')}>
              What was said
            </Button>
          )}
          {keeps && which !== 'end' && (
            <Button label={`What became of it: ${kept.thing.code}`} onPress={() => open('end')}>
              What became of it
            </Button>
          )}
        </Acts>
      </div>
      {kept.notes.length > 0 && (
        <ol className={styles.log} aria-label={`What was said about ${kept.thing.code}`}>
          {kept.notes.map((note) => (
            <li key={note.id}>
              {sayDay(note.on)}, {note.way}
              {note.withWhom !== '' && `, ${note.withWhom}`}: {note.words} <span className="quiet">{note.by}</span>
            </li>
          ))}
        </ol>
      )}
      {which !== null && (
        <div className={styles.form}>
          {which === 'note' ? <NoteForm kept={kept} onClose={close} /> : <EndForm kept={kept} onClose={close} />}
        </div>
      )}
    </div>
  );
}
