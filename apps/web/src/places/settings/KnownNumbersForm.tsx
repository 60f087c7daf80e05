import type { KnownBy } from '@corewright/contracts/identify';
import { useState } from 'react';
import { versionShownBy } from '../../api/problem.js';
import { Acts, Button } from '../../ui/Button.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { TextField } from '../../ui/TextField.js';
import { usePutKnownNumbers } from './actions.js';
import {
  type GearKeyed,
  type NumbersKeyed,
  noGear,
  noRange,
  numbersFrom,
  numbersOf,
  type RangeKeyed,
  rangeFault,
  readMeshes,
  sayTeeth,
} from './known-numbers-keyed.js';

/** Which serial numbers a type has, and by which teeth it has its ratio. */
export function KnownNumbersForm({ known }: { readonly known: KnownBy }) {
  // null until something is keyed: the form then follows what others keep
  const [draft, setDraft] = useState<(NumbersKeyed & { version: number }) | null>(null);
  const [wasTried, setWasTried] = useState(false);
  const put = usePutKnownNumbers(known.unitType.id);
  const keyed = draft ?? { ...numbersFrom(known), version: known.version };
  const change = (more: Partial<NumbersKeyed>) => setDraft({ ...keyed, ...more });
  const keep = () => {
    setWasTried(true);
    const numbers = numbersOf(keyed);
    if (numbers === null || put.isPending) return;
    put.mutate(
      { version: keyed.version, numbers },
      {
        onSuccess: () => {
          setDraft(null);
          setWasTried(false);
        },
        onError: (error) => setDraft({ ...keyed, version: versionShownBy(error, keyed.version) }),
      },
    );
  };
  const putRange = (index: number, more: Partial<RangeKeyed>) =>
    change({ serials: keyed.serials.map((range, at) => (at === index ? { ...range, ...more } : range)) });
  const putGear = (index: number, more: Partial<GearKeyed>) =>
    change({ gears: keyed.gears.map((gear, at) => (at === index ? { ...gear, ...more } : gear)) });
  return (
    <Form label={`Serial numbers and teeth of ${known.unitType.name}`} onSubmit={keep}>
      <p>
        <b>Serial numbers and teeth.</b> Key every range of serial numbers that there is, or none: one outside them rules the type
        out.
      </p>
      {keyed.serials.map((range, index) => (
        // rows have no name of their own: their place is what they are known by
        <FieldPair key={`range ${index}`}>
          <TextField
            label={`Serial numbers ${index + 1}, letters before`}
            value={range.prefix}
            onChange={(prefix) => putRange(index, { prefix })}
            maxLength={40}
          />
          <TextField
            label={`Serial numbers ${index + 1}, first`}
            value={range.first}
            onChange={(first) => putRange(index, { first })}
            inputMode="numeric"
            maxLength={9}
          />
          <TextField
            label={`Serial numbers ${index + 1}, last`}
            value={range.last}
            onChange={(last) => putRange(index, { last })}
            error={wasTried && `${range.prefix}${range.first}${range.last}` !== '' ? rangeFault(range) : null}
            inputMode="numeric"
            maxLength={9}
          />
        </FieldPair>
      ))}
      {keyed.gears.map((gear, index) => (
        <FieldPair key={`gear ${index}`}>
          <TextField
            label={`Ratio ${index + 1}, gear`}
            value={gear.gear}
            onChange={(name) => putGear(index, { gear: name })}
            note="empty where there is one ratio"
            maxLength={40}
          />
          <TextField
            label={`Ratio ${index + 1}, teeth`}
            value={gear.teeth}
            onChange={(teeth) => putGear(index, { teeth })}
            note={sayTeeth(gear.teeth)}
            error={
              wasTried && `${gear.gear}${gear.teeth}` !== '' && readMeshes(gear.teeth) === null
                ? 'Key driver and driven as 4/31, from 1 to 1000 teeth.'
                : null
            }
            maxLength={40}
          />
        </FieldPair>
      ))}
      <p className="quiet">What is emptied is left out.</p>
      {put.error !== null && <Failure word="Not kept" error={put.error} kept="What you keyed is kept." />}
      <Acts>
        <Button type="submit" isPending={put.isPending}>
          Keep the numbers
        </Button>
        <Button look="plain" onPress={() => change({ serials: [...keyed.serials, noRange] })}>
          Add serial numbers
        </Button>
        <Button look="plain" onPress={() => change({ gears: [...keyed.gears, noGear] })}>
          Add a ratio
        </Button>
      </Acts>
    </Form>
  );
}
