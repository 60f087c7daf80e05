import type { Minimum } from '@corewright/contracts/consumables';
import { useState } from 'react';
import { useKeepsBooks } from '../../../api/session.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { ComboField } from '../../../ui/ComboField.js';
import { FieldPair, Form } from '../../../ui/Form.js';
import { FormFoot } from '../../../ui/FormFoot.js';
import { Failure } from '../../../ui/Problem.js';
import { QuantityField } from '../../../ui/QuantityField.js';
import { Section } from '../../../ui/Section.js';
import { TextField } from '../../../ui/TextField.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import { findFirms } from '../../goods-in/queries.js';
import { useKeepMinimum, useRemoveMinimum } from './consumable-actions.js';

export interface MinimumSectionProps {
  readonly partId: string;
  readonly unitOfMeasure: string;
  /** what a container is; null where the part is no consumable */
  readonly container: string | null;
  readonly minimum: Minimum | null;
}

/** Below how many a part stands on the list to buy, and up to how many it is bought. */
export function MinimumSection(props: MinimumSectionProps) {
  const { partId, minimum } = props;
  const { which, open, close } = useOneForm<'minimum'>();
  const mayChange = useKeepsBooks();
  const removing = useRemoveMinimum(partId, minimum?.version ?? 0, () => undefined);
  const unit = props.container !== null ? 'full containers' : props.unitOfMeasure;
  if (minimum === null && !mayChange) return null;
  return (
    <Section title="Minimum" aside={minimum === null ? 'none' : `${minimum.minimum}, ${unit}`}>
      {minimum !== null && (
        <p>
          Below {minimum.minimum} it stands on the list to buy, up to {minimum.upTo}
          {minimum.supplier !== null && ` from ${minimum.supplier.name}`}.{' '}
          {minimum.note !== '' && <span className="quiet">Note: {minimum.note}</span>}
        </p>
      )}
      {which !== null && <MinimumForm {...props} unit={unit} onClose={close} />}
      {removing.isError && <Failure error={removing.error} word="Not taken away" />}
      {which === null && (
        <Acts>
          {mayChange && (
            <Button onPress={() => open('minimum')}>{minimum === null ? 'Set a minimum' : 'Change the minimum'}</Button>
          )}
          {mayChange && minimum !== null && (
            <Button look="plain" isPending={removing.isPending} onPress={() => removing.mutate(undefined)}>
              No minimum any longer
            </Button>
          )}
          <ButtonLink href="/stores/to-buy">List to buy</ButtonLink>
        </Acts>
      )}
    </Section>
  );
}

function MinimumForm({
  partId,
  minimum,
  unit,
  onClose,
}: MinimumSectionProps & { readonly unit: string; readonly onClose: () => void }) {
  const [keyed, setKeyed] = useState({
    minimum: minimum?.minimum ?? '',
    upTo: minimum?.upTo ?? '',
    supplierName: minimum?.supplier?.name ?? '',
    note: minimum?.note ?? '',
  });
  const [wasTried, setWasTried] = useState(false);
  const keeping = useKeepMinimum(partId, minimum?.version ?? null, onClose);
  const submit = () => {
    setWasTried(true);
    if (keyed.minimum !== '' && keyed.upTo !== '' && !keeping.isPending) keeping.mutate(keyed);
  };
  return (
    <Form label="Minimum" onSubmit={submit}>
      <FieldPair>
        <QuantityField
          label="Buy when fewer than"
          value={keyed.minimum}
          onChange={(least) => setKeyed({ ...keyed, minimum: least })}
          unit={`${unit}; what is on order for stock counts`}
          error={wasTried && keyed.minimum === '' ? 'Key a number.' : null}
        />
        <QuantityField
          label="Buy up to"
          value={keyed.upTo}
          onChange={(upTo) => setKeyed({ ...keyed, upTo })}
          unit={unit}
          error={wasTried && keyed.upTo === '' ? 'Key a number.' : null}
        />
      </FieldPair>
      <ComboField
        label="Bought from"
        text={keyed.supplierName}
        onText={(supplierName) => setKeyed({ ...keyed, supplierName })}
        onChoose={(firm) => setKeyed({ ...keyed, supplierName: firm.label })}
        source={findFirms}
        note="empty: whoever it was ordered from last"
      />
      <TextField
        label="Note for whoever buys"
        value={keyed.note}
        onChange={(note) => setKeyed({ ...keyed, note })}
        maxLength={200}
      />
      <FormFoot act="Keep it" failed="Not kept" sending={keeping} onClose={onClose} />
    </Form>
  );
}
