import { type AcceptanceTerms, CorePoint, type EditAcceptanceTerms } from '@corewright/contracts/acceptance';
import type { TypeComponent } from '@corewright/contracts/cores';
import { restOfShares } from '@corewright/costing/judge-core';
import { formatDecimal, parseQuantity, zero } from '@corewright/quantities/decimal';
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { fieldWords } from '../../api/field-words.js';
import { versionShownBy } from '../../api/problem.js';
import { Acts, Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import { pointWords } from '../stores/core-points.js';
import { usePutAcceptanceTerms } from './actions.js';
import { OfUnitType } from './OfUnitType.js';
import { acceptanceTermsQuery, typeComponentsQuery, unitTypesQuery } from './queries.js';

/** What is asked of a core of a type, and what a good one is credited with. */
export function AcceptanceSection() {
  return (
    <OfUnitType
      title="What is asked of a core"
      words="The acceptance sheet of a type: what is acceptable at each point, which components must be re-usable, and what share of a good core’s worth hangs on each. It is filled in from the page of a unit."
    >
      {(typeId) => <Terms key={typeId} typeId={typeId} />}
    </OfUnitType>
  );
}

function Terms({ typeId }: { readonly typeId: string }) {
  const terms = useQuery(acceptanceTermsQuery(typeId));
  const components = useQuery(typeComponentsQuery(typeId));
  if (terms.isPending || components.isPending) return <Waiting>What is asked is being fetched.</Waiting>;
  if (terms.data === undefined || components.data === undefined)
    return <Failure word="Not shown" error={terms.error ?? components.error} />;
  return <TermsForm typeId={typeId} terms={terms.data} components={components.data.components} />;
}

interface TermsKeyed {
  readonly points: Record<CorePoint, string>;
  /** by position; empty where nothing hangs on it */
  readonly shares: Readonly<Record<number, string>>;
  readonly fullCredit: string;
}

function keyedFrom({ points, components, fullCredit }: AcceptanceTerms): TermsKeyed {
  return {
    points: Object.fromEntries(points.map(({ point, acceptable }) => [point, acceptable])) as Record<CorePoint, string>,
    shares: Object.fromEntries(components.map(({ position, share }) => [position, share])),
    fullCredit: fullCredit ?? '',
  };
}

function sharesOf({ shares }: TermsKeyed): EditAcceptanceTerms['shares'] {
  return Object.entries(shares)
    .filter(([, share]) => share.trim() !== '')
    .map(([position, share]) => ({ position: Number(position), share }));
}

interface TermsFormProps {
  readonly typeId: string;
  readonly terms: AcceptanceTerms;
  readonly components: readonly TypeComponent[];
}

function TermsForm({ typeId, terms, components }: TermsFormProps) {
  // null until something is keyed: the form then follows what others keep
  const [draft, setDraft] = useState<(TermsKeyed & { version: number }) | null>(null);
  const put = usePutAcceptanceTerms(typeId);
  const keyed = draft ?? { ...keyedFrom(terms), version: terms.version };
  const change = (more: Partial<TermsKeyed>) => setDraft({ ...keyed, ...more });
  const keep = () => {
    if (put.isPending) return;
    const { version, points, fullCredit } = keyed;
    put.mutate(
      { version, terms: { points, shares: sharesOf(keyed), fullCredit } },
      {
        onSuccess: () => setDraft(null),
        onError: (error) => setDraft({ ...keyed, version: versionShownBy(error, version) }),
      },
    );
  };
  return (
    <Form label={`What is asked of a core of ${terms.unitType.name}`} onSubmit={keep}>
      <CopyFrom typeId={typeId} components={components} onCopy={change} />
      <FieldPair>
        {CorePoint.options.map((point) => (
          <TextField
            key={point}
            label={pointWords[point]}
            value={keyed.points[point]}
            onChange={(words) => change({ points: { ...keyed.points, [point]: words } })}
            note="what is acceptable"
            lines={2}
            maxLength={300}
          />
        ))}
      </FieldPair>
      <FieldPair>
        {components.map(({ position, name }) => (
          <TextField
            key={position}
            label={`Share of ${position}, ${name}`}
            value={keyed.shares[position] ?? ''}
            onChange={(share) => change({ shares: { ...keyed.shares, [position]: share.replace(',', '.') } })}
            note="%; empty if it need not be re-usable"
            inputMode="decimal"
            maxLength={12}
          />
        ))}
      </FieldPair>
      <p aria-live="polite">{sayRest(keyed)}</p>
      <TextField
        label="Credit for a full acceptable core"
        value={keyed.fullCredit}
        onChange={(fullCredit) => change({ fullCredit })}
        note={`${terms.currency}; empty while nobody has said`}
        error={fieldWords(put.error, 'fullCredit')}
        inputMode="decimal"
        maxLength={20}
      />
      {put.error !== null && <Failure word="Not kept" error={put.error} kept="What you keyed is kept." />}
      <Acts>
        <Button type="submit" isPending={put.isPending}>
          Keep it
        </Button>
      </Acts>
    </Form>
  );
}

function sayRest(keyed: TermsKeyed): string {
  const shares = sharesOf(keyed).map(({ share }) => parseQuantity(share));
  const read = shares.flatMap((share) => (share.ok ? [share.value] : []));
  if (read.length < shares.length) return 'A share is a number of percent, such as 20 or 12.5.';
  const rest = restOfShares(read);
  if (rest < zero) return 'The shares are more than 100 % together. Take some away.';
  return `The casing and the rest: ${formatDecimal(rest)} %`;
}

interface CopyFromProps {
  readonly typeId: string;
  readonly components: readonly TypeComponent[];
  readonly onCopy: (keyed: TermsKeyed) => void;
}

/** Fills the form with what is asked of another type, to be looked at before it is kept. Shares go by the names of the components. */
function CopyFrom({ typeId, components, onCopy }: CopyFromProps) {
  const client = useQueryClient();
  const types = useQuery(unitTypesQuery).data?.unitTypes ?? [];
  const [said, setSaid] = useState('');
  const others = types.filter(({ id }) => id !== typeId);
  const copy = async (otherId: string) => {
    const other = await client.fetchQuery(acceptanceTermsQuery(otherId)).catch(() => null);
    if (other === null) return setSaid('It could not be fetched. Try again.');
    if (other.version === 0) return setSaid(`Nothing is asked of a ${other.unitType.name} yet.`);
    const shareOf = new Map(other.components.map(({ name, share }) => [name.toLowerCase(), share]));
    const matched = components.flatMap(({ position, name }) => {
      const share = shareOf.get(name.toLowerCase());
      return share === undefined ? [] : [[position, share] as const];
    });
    onCopy({ ...keyedFrom(other), shares: Object.fromEntries(matched) });
    const missing = other.components.length - matched.length;
    setSaid(
      `Copied from ${other.unitType.name}${missing === 0 ? '' : `, but for ${missing} of its components, which this type does not have by that name`}. Nothing is kept yet.`,
    );
  };
  if (others.length === 0) return null;
  return (
    <SelectField
      label="Copy from another type"
      value=""
      choices={[{ value: '', label: 'choose one' }, ...others.map(({ id, name }) => ({ value: id, label: name }))]}
      onChange={(otherId) => {
        if (otherId !== '') void copy(otherId);
      }}
      note={<span role="status">{said}</span>}
    />
  );
}
