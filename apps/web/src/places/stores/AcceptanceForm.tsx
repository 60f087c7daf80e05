import type { AcceptanceTerms, CorePoint } from '@corewright/contracts/acceptance';
import { type CoreSuggestion, judgeCore } from '@corewright/costing/judge-core';
import { decimalFrom, formatDecimal } from '@corewright/quantities/decimal';
import { formatMoney, moneyFrom } from '@corewright/quantities/money';
import { useQuery } from '@tanstack/react-query';
import { newKey } from '../../api/uuid.js';
import { Acts, Button } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { useDraft } from '../bench/use-draft.js';
import { gradesQuery } from '../goods-in/queries.js';
import styles from './Acceptance.module.css';
import { type Answered, AnswerKeys } from './AnswerKeys.js';
import { useFillIn } from './acceptance-queries.js';
import { pointWords, sayRule } from './core-points.js';
import { saySuggested } from './say-acceptance.js';

export interface AcceptanceFormProps {
  readonly unitId: string;
  readonly terms: AcceptanceTerms;
  readonly onKept: () => void;
  /** null where there is no sheet to go back to */
  readonly onClose: (() => void) | null;
}

interface SheetKeyed {
  readonly points: Partial<Record<CorePoint, Answered>>;
  readonly components: Readonly<Record<number, Answered>>;
}

const nothingSaid: SheetKeyed = { points: {}, components: {} };
const unanswered: Answered = { answer: 'not looked at', note: '' };

/** The sheet of a unit: what is asked, point by point, and what the answers so far suggest. */
export function AcceptanceForm({ unitId, terms, onKept, onClose }: AcceptanceFormProps) {
  const [keyed, setKeyed] = useDraft<SheetKeyed>(`acceptance ${unitId}`, nothingSaid);
  const fillIn = useFillIn(unitId);
  const grades = (useQuery(gradesQuery).data?.grades ?? [])
    .filter(({ scale, retired }) => scale === 'core' && !retired)
    .map(({ letter }) => letter);
  const pointSaid = (point: CorePoint) => keyed.points[point] ?? unanswered;
  const componentSaid = (position: number) => keyed.components[position] ?? unanswered;
  const keep = () => {
    if (fillIn.isPending) return;
    const points = terms.points.map(({ point }) => ({ point, ...pointSaid(point) }));
    const components = terms.components.map(({ position }) => ({ position, ...componentSaid(position) }));
    const sheet = { id: newKey(), termsVersion: terms.version, points, components };
    fillIn.mutate(sheet, {
      onSuccess: () => {
        setKeyed(nothingSaid);
        onKept();
      },
    });
  };
  const suggestion = judgeCore(
    {
      shares: terms.components.map(({ share }) => decimalFrom(share)),
      fullCredit: terms.fullCredit === null ? null : moneyFrom(terms.fullCredit, terms.currency),
      grades,
    },
    {
      points: terms.points.map(({ point }) => pointSaid(point).answer),
      components: terms.components.map(({ position }) => componentSaid(position).answer),
    },
  );
  return (
    <Section title="Look it over" aside={terms.unitType.name}>
      <Form label="Acceptance sheet" onSubmit={keep}>
        <ul className={styles.asked} aria-label="Points">
          {terms.points.map(({ point, acceptable }) => (
            <AnswerKeys
              key={point}
              question={pointWords[point]}
              said={pointSaid(point)}
              onSay={(said) => setKeyed({ ...keyed, points: { ...keyed.points, [point]: said } })}
            >
              {acceptable !== '' && <p className="quiet">{acceptable}</p>}
            </AnswerKeys>
          ))}
        </ul>
        {terms.components.length > 0 && (
          <ul className={styles.asked} aria-label="Components that must be re-usable">
            {terms.components.map(({ position, name, share }) => (
              <AnswerKeys
                key={position}
                question={`Re-usable: ${name}`}
                said={componentSaid(position)}
                onSay={(said) => setKeyed({ ...keyed, components: { ...keyed.components, [position]: said } })}
              >
                <p className="quiet">{share} % of a good core</p>
              </AnswerKeys>
            ))}
          </ul>
        )}
        <div className={styles.suggested} role="status">
          <span>What it suggests</span>
          <strong>{saySuggested(shown(suggestion, terms.currency), terms.currency)}</strong>
          <span className="quiet">{sayRule(grades)}</span>
        </div>
        <CautionLine>
          Support a heavy casting before you look beneath it. A look is no test: follow the maker’s manual and qualified practice.
        </CautionLine>
        {fillIn.error !== null && <Failure word="Not kept" error={fillIn.error} kept="What you keyed is kept." />}
        <Acts>
          <Button look="main" type="submit" isPending={fillIn.isPending}>
            Keep the sheet
          </Button>
          {onClose !== null && (
            <Button look="plain" onPress={onClose}>
              Leave it
            </Button>
          )}
        </Acts>
      </Form>
    </Section>
  );
}

function shown({ least, most, notLookedAt }: CoreSuggestion, currency: string) {
  const said = ({ kept, grade, credit }: CoreSuggestion['least']) => ({
    kept: formatDecimal(kept),
    grade,
    credit: credit === null ? null : formatMoney(credit, currency),
  });
  return { least: said(least), most: said(most), notLookedAt };
}
