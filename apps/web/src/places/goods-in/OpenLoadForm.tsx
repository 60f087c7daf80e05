import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useRouter } from '@tanstack/react-router';
import { useState } from 'react';
import { newKey } from '../../api/uuid.js';
import { ComboField } from '../../ui/ComboField.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { FormFoot } from '../../ui/FormFoot.js';
import { Section } from '../../ui/Section.js';
import { dayOf } from '../../ui/say-when.js';
import { TextField } from '../../ui/TextField.js';
import { openLoad } from './actions.js';
import { findFirms, loadsQuery } from './queries.js';

/** The head of a new load. It opens on its rows at once. */
export function OpenLoadForm({ onClose }: { readonly onClose: () => void }) {
  const router = useRouter();
  const client = useQueryClient();
  const [ids] = useState(() => ({ id: newKey(), key: newKey() }));
  const [words, setWords] = useState('');
  const [sellerName, setSellerName] = useState('');
  const [boughtOn, setBoughtOn] = useState(() => dayOf(new Date()));
  const [wasTried, setWasTried] = useState(false);
  const open = useMutation({
    mutationFn: () => openLoad({ id: ids.id, words, sellerName, boughtOn }, newKey()),
    onSuccess: (load) => {
      void client.invalidateQueries({ queryKey: loadsQuery.queryKey });
      router.history.push(`/goods-in/${load.id}`);
    },
  });
  const isWanting = words.trim() === '' || sellerName.trim() === '' || boughtOn === '';
  const submit = () => {
    setWasTried(true);
    if (!isWanting && !open.isPending) open.mutate();
  };
  const fault = (text: string, says: string) => (wasTried && text.trim() === '' ? says : null);
  return (
    <Section title="A new load">
      <Form label="A new load" onSubmit={submit}>
        <TextField
          label="What it is"
          value={words}
          onChange={setWords}
          note="as you would say it: dispersal at a farm, a shelf of spares"
          error={fault(words, 'Say in a few words what was bought.')}
          autoFocus
          maxLength={200}
        />
        <FieldPair>
          <ComboField
            label="Bought from"
            text={sellerName}
            onText={setSellerName}
            onChoose={(firm) => setSellerName(firm.label)}
            source={findFirms}
            note="a name that is not known yet is taken as keyed"
            error={fault(sellerName, 'Say who it was bought from.')}
          />
          <TextField
            label="Bought on"
            type="date"
            value={boughtOn}
            onChange={setBoughtOn}
            error={fault(boughtOn, 'Key the day.')}
          />
        </FieldPair>
        <FormFoot act="Open it and key its rows" failed="Not opened" sending={open} onClose={onClose} />
      </Form>
    </Section>
  );
}
