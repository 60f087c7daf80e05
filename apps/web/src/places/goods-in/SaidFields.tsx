import { Acts, Button } from '../../ui/Button.js';
import { ComboField } from '../../ui/ComboField.js';
import type { ComboSource } from '../../ui/combo-options.js';
import { FieldPair } from '../../ui/Form.js';
import { TextField } from '../../ui/TextField.js';
import { findParts, findUnitTypes, NOT_YET_IDENTIFIED } from './queries.js';

/** A line of what the seller said, as it is keyed. */
export interface KeyedLine {
  readonly key: number;
  readonly words: string;
  readonly count: string;
  readonly unitTypeId: string | null;
  readonly partId: string | null;
}

interface SaidFieldsProps {
  readonly lines: readonly KeyedLine[];
  readonly onChange: (lines: readonly KeyedLine[]) => void;
  readonly wasTried: boolean;
}

/** What was said to be in it: types and parts by the books, or plain words. */
export function SaidFields({ lines, onChange, wasTried }: SaidFieldsProps) {
  const put = (changed: KeyedLine) => onChange(lines.map((line) => (line.key === changed.key ? changed : line)));
  const add = () =>
    onChange([...lines, { key: (lines.at(-1)?.key ?? -1) + 1, words: '', count: '1', unitTypeId: null, partId: null }]);
  return (
    <>
      {lines.map((line, index) => (
        <FieldPair key={line.key}>
          <ComboField
            label={index === 0 ? 'Said to be in it' : `Said to be in it, line ${index + 1}`}
            text={line.words}
            onText={(words) => put({ ...line, words, unitTypeId: null, partId: null })}
            onChoose={({ id, label }) => put({ ...line, words: label, ...referenceOf(id) })}
            source={findTypesAndParts}
            note={line.unitTypeId === null && line.partId === null ? 'choose from the list, or say it in words' : 'by the books'}
          />
          <TextField
            label={index === 0 ? 'How many' : `How many, line ${index + 1}`}
            value={line.count}
            onChange={(count) => put({ ...line, count })}
            inputMode="numeric"
            error={
              wasTried && line.words.trim() !== '' && !/^[1-9]\d{0,4}$/.test(line.count.trim()) ? 'Key a whole number.' : null
            }
            maxLength={6}
          />
        </FieldPair>
      ))}
      <Acts>
        <Button onPress={add}>{lines.length === 0 ? 'Key what was said to be in it' : 'Another line'}</Button>
        {lines.length > 0 && <Button onPress={() => onChange(lines.slice(0, -1))}>Take the last line away</Button>}
      </Acts>
    </>
  );
}

const TYPE = 'type ';

function referenceOf(id: string): Pick<KeyedLine, 'unitTypeId' | 'partId'> {
  return id.startsWith(TYPE) ? { unitTypeId: id.slice(TYPE.length), partId: null } : { unitTypeId: null, partId: id };
}

/** Unit types, then parts. */
const findTypesAndParts: ComboSource = async (typed, signal) => {
  if (typed.trim() === '') return [];
  const [types, parts] = await Promise.all([findUnitTypes(typed, signal), findParts(typed, signal)]);
  const named = types.filter((type) => type.id !== NOT_YET_IDENTIFIED.id);
  return [...named.map((type) => ({ ...type, id: `${TYPE}${type.id}` })), ...parts];
};
