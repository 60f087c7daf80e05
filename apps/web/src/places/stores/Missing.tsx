import type { Thing } from '@corewright/contracts/stores';
import { useState } from 'react';
import { useKeepsBooks, useWorksWithThings } from '../../api/session.js';
import { Acts, Button } from '../../ui/Button.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { sayInstant } from '../../ui/say-when.js';
import { useOneForm } from '../../ui/use-one-form.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { useFoundHere, usePostingAway } from './not-there-actions.js';
import { PlaceField } from './place/PlaceField.js';
import styles from './ThingScreen.module.css';

/** At the head of a page: the thing is not where the books have it, since when, who looked; and what to do when it turns up. */
export function Missing({ thing }: { readonly thing: Thing }) {
  const { which, open, close } = useOneForm<'found' | 'post'>();
  const worksWithThings = useWorksWithThings();
  const mayPost = useKeepsBooks() && thing.kind === 'lot';
  const { missing } = thing;
  if (missing === null) return null;
  return (
    <div className={styles.barred}>
      <b>Not found</b>
      <div className={styles.missing}>
        <p>
          Missing since {sayInstant(missing.since, new Date())}
          {missing.by !== '' && `, ${missing.by}`}. {missing.words}
        </p>
        {which === 'found' && <FoundForm thing={thing} onClose={close} />}
        {which === 'post' && <PostForm thingId={thing.id} onClose={close} />}
        {which === null && worksWithThings && (
          <Acts>
            <Button onPress={() => open('found')}>It is here</Button>
            {mayPost && <Button onPress={() => open('post')}>Post it away</Button>}
          </Acts>
        )}
      </div>
    </div>
  );
}

interface FormProps {
  readonly thing: Thing;
  readonly onClose: () => void;
}

function FoundForm({ thing, onClose }: FormProps) {
  const found = useFoundHere(thing.id, onClose);
  const [byTheBooks] = useState(thing.holdings.find(({ holderKind }) => holderKind === 'place'));
  const [placeId, setPlaceId] = useState<string | null>(byTheBooks?.holderId ?? null);
  const submit = () => {
    if (!found.isPending && placeId !== null) found.mutate({ placeId });
  };
  return (
    <Form label="It is here" onSubmit={submit}>
      <PlaceField
        label="Where it is"
        placeId={placeId}
        path={byTheBooks?.words}
        onPlace={setPlaceId}
        note="scan the place, or key a word of its way; where the books have another, it is moved here"
      />
      {found.isError && <Failure error={found.error} word="Not booked" kept="What you chose is kept." />}
      <Acts>
        <Button look="main" type="submit" isPending={found.isPending}>
          It is here
        </Button>
        <Button look="plain" onPress={onClose}>
          Leave it
        </Button>
      </Acts>
    </Form>
  );
}

function PostForm({ thingId, onClose }: { readonly thingId: string; readonly onClose: () => void }) {
  const posting = usePostingAway(thingId, onClose);
  return (
    <WhyForm
      label="Post it away"
      question="Why nobody looks for it any longer"
      note="it stays on the record with your name; the books hold none of it in places after that"
      act="Post it away"
      isGrave
      failed="Not posted away"
      sending={posting}
      onWhy={(reason) => posting.mutate({ reason })}
      onClose={onClose}
    />
  );
}
