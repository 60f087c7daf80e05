import { type Disposition, dispositions, type EditTypeComponent, type TypeComponent } from '@corewright/contracts/cores';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { versionShownBy } from '../../api/problem.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { CheckField } from '../../ui/CheckField.js';
import { ComboField } from '../../ui/ComboField.js';
import { Waiting } from '../../ui/Empty.js';
import { Fold } from '../../ui/Fold.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import { findParts } from '../jobs/queries.js';
import { useEditTypeComponent } from './actions.js';
import { OfUnitType } from './OfUnitType.js';
import { typeComponentsQuery } from './queries.js';

/** What usually becomes of each component of a unit type when such a unit is stripped. */
export function TypeComponentsSection() {
  return (
    <OfUnitType
      title="Components of a unit type"
      words="What a strip-down expects, what becomes of it when nobody says otherwise, and what somebody must look at."
    >
      {(typeId) => <Components key={typeId} typeId={typeId} />}
    </OfUnitType>
  );
}

function Components({ typeId }: { readonly typeId: string }) {
  const found = useQuery(typeComponentsQuery(typeId));
  if (found.isPending) return <Waiting>The components are being fetched.</Waiting>;
  if (found.data === undefined) return <Failure word="Not shown" error={found.error} />;
  if (found.data.components.length === 0) return <p>No components of this type are in the books yet. Bring them in as a file.</p>;
  return (
    <>
      <Acts>
        <ButtonLink href={`/stores/yields?type=${typeId}`}>What cores of this type have given</ButtonLink>
      </Acts>
      {found.data.components.map((component) => (
        <Fold key={component.position} summary={summaryOf(component)}>
          <ComponentForm typeId={typeId} component={component} />
        </Fold>
      ))}
    </>
  );
}

function summaryOf({ position, name, quantity, usualFate, mustBeLookedAt, keptSet }: TypeComponent): string {
  const several = quantity === '1' ? '' : ` × ${quantity}`;
  const words = [
    usualFate === null ? 'no usual fate' : `usually ${usualFate}`,
    mustBeLookedAt ? 'must be looked at' : '',
    keptSet,
  ];
  return `${position}  ${name}${several}: ${words.filter((each) => each !== '').join('; ')}`;
}

const noFate = 'nobody has said';
const FATES = [{ value: noFate, label: noFate }, ...dispositions.map((fate) => ({ value: fate, label: fate }))];

function rulesOf(component: TypeComponent): EditTypeComponent {
  const { part, mustBeLookedAt, usualFate, keptSet, isMainCasing, keepsThickness } = component;
  return { partId: part?.id ?? null, mustBeLookedAt, usualFate, keptSet, isMainCasing, keepsThickness };
}

function partWords({ part }: TypeComponent): string {
  return part === null ? '' : `${part.number} ${part.name}`;
}

function ComponentForm({ typeId, component }: { readonly typeId: string; readonly component: TypeComponent }) {
  // null until something is keyed: the form then follows what others keep
  const [keyed, setKeyed] = useState<(EditTypeComponent & { version: number; words: string }) | null>(null);
  const edit = useEditTypeComponent(typeId);
  const rules = keyed ?? { ...rulesOf(component), version: component.version, words: partWords(component) };
  const put = (more: Partial<typeof rules>) => setKeyed({ ...rules, ...more });
  const keep = () => {
    const { version, words: _words, ...sent } = rules;
    edit.mutate(
      { position: component.position, version, rules: sent },
      {
        onSuccess: () => setKeyed(null),
        onError: (error) => setKeyed({ ...rules, version: versionShownBy(error, rules.version) }),
      },
    );
  };
  return (
    <Form label={`${component.position}, ${component.name}`} onSubmit={keep}>
      <FieldPair>
        <SelectField
          label="Usual fate"
          value={rules.usualFate ?? noFate}
          choices={FATES}
          onChange={(fate) => put({ usualFate: fate === noFate ? null : (fate as Disposition) })}
        />
        <ComboField
          label="Part that it is in stores"
          text={rules.words}
          onText={(words) => put({ words, partId: null })}
          onChoose={(option) => put({ words: option.label, partId: option.id })}
          source={findParts}
          note="a number or a name; empty for none"
        />
        <TextField
          label="Stays together with"
          value={rules.keptSet}
          onChange={(keptSet) => put({ keptSet })}
          note="the same words at each component of the set: worm set"
          maxLength={200}
        />
      </FieldPair>
      <CheckField isSelected={rules.mustBeLookedAt} onChange={(mustBeLookedAt) => put({ mustBeLookedAt })}>
        somebody must look at it
      </CheckField>
      <CheckField isSelected={rules.keepsThickness} onChange={(keepsThickness) => put({ keepsThickness })}>
        shims: bagged by position and thickness
      </CheckField>
      <CheckField isSelected={rules.isMainCasing} onChange={(isMainCasing) => put({ isMainCasing })}>
        the casing that the unit is known by
      </CheckField>
      {edit.error !== null && <Failure word="Not kept" error={edit.error} kept="What you keyed is kept." />}
      <Acts>
        <Button type="submit" isPending={edit.isPending}>
          Keep it
        </Button>
      </Acts>
    </Form>
  );
}
