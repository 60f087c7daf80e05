import type { CountSettings } from '@corewright/contracts/counting';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';
import { useCountSettings } from '../stores/counting/actions.js';
import { countSettingsQuery } from '../stores/counting/queries.js';
import { PlaceField } from '../stores/place/PlaceField.js';

const kinds = ['site', 'area', 'rack', 'bin', 'quarantine'] as const;
type Kind = (typeof kinds)[number];

/** How often is counted: scarce parts, and the rest by place. */
export function CountingSection() {
  const settings = useQuery(countSettingsQuery);
  return (
    <Section title="Counting">
      {settings.isPending && <Waiting>How often is counted is being fetched.</Waiting>}
      {settings.isError && <Failure word="Not shown" error={settings.error} />}
      {settings.data !== undefined && <SettingsForm key={settings.data.version} settings={settings.data} />}
    </Section>
  );
}

const wholeDays = (text: string): number | null => (/^\d{1,4}$/.test(text.trim()) && Number(text) > 0 ? Number(text) : null);
const daysWrong = (text: string): string | null => (wholeDays(text) === null ? 'Whole days, 1 or more' : null);

interface TermKeyed {
  /** a place's id, or the name of a kind; empty for a place that is not chosen yet */
  readonly of: string;
  readonly days: string;
}

function SettingsForm({ settings }: { readonly settings: CountSettings }) {
  const [keyed, setKeyed] = useState({
    atMost: settings.scarceAtMost,
    scarce: String(settings.scarceDays),
    usual: String(settings.usualDays),
  });
  const [terms, setTerms] = useState<readonly TermKeyed[]>(
    settings.terms.map(({ placeId, placeKind, days }) => ({ of: placeId ?? placeKind ?? '', days: String(days) })),
  );
  const keep = useCountSettings();
  const [scarceDays, usualDays] = [wholeDays(keyed.scarce), wholeDays(keyed.usual)];
  const isCount = /^\d{1,10}$/.test(keyed.atMost.trim());
  const read = terms.map(({ of, days }) => {
    const placeKind: Kind | null = kinds.find((kind) => kind === of) ?? null;
    return { placeId: placeKind === null ? of : null, placeKind, days: wholeDays(days) };
  });
  const send = () => {
    if (scarceDays === null || usualDays === null || !isCount) return;
    const whole = read.flatMap(({ days, ...term }) => (days === null || term.placeId === '' ? [] : [{ ...term, days }]));
    if (whole.length === read.length)
      keep.mutate({ scarceAtMost: keyed.atMost.trim(), scarceDays, usualDays, terms: whole, version: settings.version });
  };
  return (
    <Form label="How often is counted" onSubmit={send}>
      <FieldPair>
        <TextField
          label="Scarce, where so many or fewer are ours"
          inputMode="numeric"
          value={keyed.atMost}
          onChange={(atMost) => setKeyed({ ...keyed, atMost })}
          error={isCount ? null : 'A whole number'}
          note="a part can be marked otherwise on its page"
        />
        <TextField
          label="Count a scarce part every so many days"
          inputMode="numeric"
          value={keyed.scarce}
          onChange={(scarce) => setKeyed({ ...keyed, scarce })}
          error={daysWrong(keyed.scarce)}
        />
        <TextField
          label="Count a place every so many days"
          inputMode="numeric"
          value={keyed.usual}
          onChange={(usual) => setKeyed({ ...keyed, usual })}
          error={daysWrong(keyed.usual)}
        />
      </FieldPair>
      {terms.map((term, index) => (
        <Term
          key={index}
          term={term}
          onChange={(changed) => setTerms(terms.with(index, changed))}
          onRemove={() => setTerms(terms.filter((_, each) => each !== index))}
        />
      ))}
      {keep.isError && <Failure word="Not kept" error={keep.error} kept="What you keyed is kept." />}
      <Acts>
        <Button type="submit" isPending={keep.isPending}>
          Keep how often is counted
        </Button>
        <Button look="plain" onPress={() => setTerms([...terms, { of: 'bin', days: keyed.usual }])}>
          Count one place or kind of place otherwise
        </Button>
      </Acts>
    </Form>
  );
}

const onePlace = 'one place';

interface TermProps {
  readonly term: TermKeyed;
  readonly onChange: (term: TermKeyed) => void;
  readonly onRemove: () => void;
}

function Term({ term, onChange, onRemove }: TermProps) {
  const isOfKind = kinds.some((kind) => kind === term.of);
  return (
    <FieldPair>
      <SelectField
        label="Of these"
        value={isOfKind ? term.of : onePlace}
        choices={[
          ...kinds.map((kind) => ({ value: kind as string, label: `every ${kind}` })),
          { value: onePlace, label: 'one place, and what is inside it' },
        ]}
        onChange={(of) => onChange({ ...term, of: of === onePlace ? '' : of })}
      />
      {!isOfKind && (
        <PlaceField
          label="Which place"
          placeId={term.of}
          onPlace={(placeId) => onChange({ ...term, of: placeId ?? '' })}
          note="a word of its way or its nickname"
          isQuiet
          error={term.of === '' ? 'Choose the place from the list' : null}
        />
      )}
      <TextField
        label="Count each every so many days"
        inputMode="numeric"
        value={term.days}
        onChange={(days) => onChange({ ...term, days })}
        error={daysWrong(term.days)}
      />
      <Button look="plain" onPress={onRemove}>
        As usual again
      </Button>
    </FieldPair>
  );
}
