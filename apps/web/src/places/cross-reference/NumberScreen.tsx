import { useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { PageHead, Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import { CrossReferencePages } from './CrossReferencePages.js';
import { NumberAnswer } from './NumberAnswer.js';
import { makersQuery, type NumberAsked } from './number-queries.js';
import { useArrowKeys } from './use-arrow-keys.js';

export interface NumberScreenProps {
  /** What is asked, as in the address. */
  readonly asked: NumberAsked;
  readonly onAsk: (asked: NumberAsked) => void;
}

/** By number: which part is it, whoever numbered it so, what did it become, and is any of it here? */
export function NumberScreen({ asked, onAsk }: NumberScreenProps) {
  const [number, setNumber] = useState(asked.number);
  const [makerId, setMakerId] = useState(asked.makerId);
  // going back brings what was asked then
  useEffect(() => {
    setNumber(asked.number);
    setMakerId(asked.makerId);
  }, [asked.number, asked.makerId]);
  const makers = useQuery(makersQuery).data?.makers ?? [];
  const choices = [{ value: '', label: 'any maker' }, ...makers.map(({ id, name }) => ({ value: id, label: name }))];
  const area = useArrowKeys();
  return (
    <>
      <PageHead title="Cross-reference" note="What it is, and what else will serve." />
      <CrossReferencePages />
      <div ref={area}>
        <Section title="A part by its number">
          <Form label="A part by its number" onSubmit={() => onAsk({ number: number.trim(), makerId })}>
            <FieldPair>
              <TextField
                label="Number"
                value={number}
                onChange={setNumber}
                maxLength={100}
                autoFocus
                note="as printed or otherwise: 48-2217, 482217, Brantock 48 2217; a piece of it will do"
              />
              <SelectField label="Whose number" value={makerId} choices={choices} onChange={setMakerId} />
            </FieldPair>
            <Acts>
              <Button type="submit" look="main">
                Find it
              </Button>
            </Acts>
          </Form>
        </Section>
        {asked.number !== '' && <NumberAnswer asked={asked} />}
      </div>
    </>
  );
}
