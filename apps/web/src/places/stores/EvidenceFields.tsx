import type { EvidenceKind } from '@corewright/contracts/relations';
import { FieldPair } from '../../ui/Form.js';
import { SelectField } from '../../ui/SelectField.js';
import { TextField } from '../../ui/TextField.js';

const EVIDENCE: readonly { readonly value: EvidenceKind; readonly label: string; readonly note: string }[] = [
  { value: 'measured', label: 'measured', note: 'what was measured, and what came out' },
  { value: 'catalogue', label: 'catalogue', note: 'which, its edition and page' },
  { value: 'trial fitted', label: 'trial fitted', note: 'on what, and how it went' },
  { value: 'told', label: 'told', note: 'by whom' },
];

interface EvidenceFieldsProps {
  readonly evidence: { readonly kind: EvidenceKind; readonly words: string };
  readonly onChange: (evidence: { kind: EvidenceKind; words: string }) => void;
  readonly wasTried: boolean;
}

/** On what a relation or a substitute rests. */
export function EvidenceFields({ evidence, onChange, wasTried }: EvidenceFieldsProps) {
  return (
    <FieldPair>
      <SelectField
        label="Evidence"
        value={evidence.kind}
        choices={EVIDENCE}
        onChange={(kind) => onChange({ ...evidence, kind })}
        note="it stays on the record with your name"
      />
      <TextField
        label="In words"
        value={evidence.words}
        onChange={(words) => onChange({ ...evidence, words })}
        note={EVIDENCE.find((each) => each.value === evidence.kind)?.note}
        error={wasTried && evidence.words.trim() === '' ? 'Say on what this rests.' : null}
        maxLength={200}
      />
    </FieldPair>
  );
}
