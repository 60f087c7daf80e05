import type { ConsumablePage, ConsumableSettings } from '@corewright/contracts/consumables';
import { useQuery } from '@tanstack/react-query';
import { useKeepsBooks } from '../../../api/session.js';
import { Acts, Button } from '../../../ui/Button.js';
import { Failure } from '../../../ui/Problem.js';
import { Section } from '../../../ui/Section.js';
import { sayMoney } from '../../../ui/say-money.js';
import { sayDay } from '../../../ui/say-when.js';
import { useOneForm } from '../../../ui/use-one-form.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { ConsumablesCaution } from './ConsumablesCaution.js';
import { Containers } from './ConsumablesScreen.js';
import { useWithdrawConsumable } from './consumable-actions.js';
import { consumableOfPartQuery } from './consumable-queries.js';
import { MinimumSection } from './MinimumSection.js';
import { SettingsForm } from './SettingsForm.js';

/** On the page of a part: whether it goes by the container, with its containers; and its minimum. */
export function PartConsumable({ partId, unitOfMeasure }: { readonly partId: string; readonly unitOfMeasure: string }) {
  const found = useQuery(consumableOfPartQuery(partId));
  if (found.isError) return <Failure error={found.error} word="Not shown" />;
  if (found.data === undefined) return null;
  const { consumable, minimum } = found.data;
  return (
    <>
      {consumable === null ? (
        unitOfMeasure === 'each' && <NoneYet partId={partId} />
      ) : (
        <Shown partId={partId} consumable={consumable} />
      )}
      <MinimumSection
        partId={partId}
        unitOfMeasure={unitOfMeasure}
        container={consumable?.settings.container ?? null}
        minimum={minimum}
      />
    </>
  );
}

function NoneYet({ partId }: { readonly partId: string }) {
  const { which, open, close } = useOneForm<'settings'>();
  const mayChange = useKeepsBooks();
  if (!mayChange) return null;
  return (
    <Section title="Consumable" aside="no">
      {which !== null ? (
        <SettingsForm partId={partId} settings={null} onClose={close} />
      ) : (
        <Acts>
          <Button onPress={() => open('settings')}>It goes by the container</Button>
        </Acts>
      )}
    </Section>
  );
}

function Shown({ partId, consumable }: { readonly partId: string; readonly consumable: ConsumablePage }) {
  const { settings } = consumable;
  const { which, open, close } = useOneForm<'change' | 'withdraw'>();
  const mayChange = useKeepsBooks();
  return (
    <Section title="Consumable" aside={`by the ${settings.container}`}>
      <p>
        {settings.keepsDays === null ? 'Opening sets no limit.' : `It keeps ${settings.keepsDays} days once opened.`}{' '}
        {settings.oneAtATime ? 'One at a time is open.' : 'Several may be open.'} {sayCharging(settings)} Jobs do not wait for it.
      </p>
      <Containers consumable={consumable} />
      {which === 'change' && <SettingsForm partId={partId} settings={settings} onClose={close} />}
      {which === 'withdraw' && <WithdrawForm partId={partId} version={settings.version} onClose={close} />}
      {which === null && mayChange && (
        <Acts>
          <Button onPress={() => open('change')}>Change how it is kept</Button>
          <Button look="plain" onPress={() => open('withdraw')}>
            No longer by the container
          </Button>
        </Acts>
      )}
      <ConsumablesCaution />
    </Section>
  );
}

interface WithdrawProps {
  readonly partId: string;
  readonly version: number;
  readonly onClose: () => void;
}

function WithdrawForm({ partId, version, onClose }: WithdrawProps) {
  const withdrawing = useWithdrawConsumable(partId, version, onClose);
  return (
    <WhyForm
      label="No longer by the container"
      question="Why it is an ordinary part again"
      note="what was charged to jobs stays; none of it may be open"
      act="It is an ordinary part"
      failed="Not changed"
      sending={withdrawing}
      onWhy={(why) => withdrawing.mutate(why)}
      onClose={onClose}
    />
  );
}

/** How it comes onto jobs, in a sentence; amounts only for those who are told them. */
function sayCharging({ charged, useAmount, usesPerContainer, flat, currency }: ConsumableSettings): string {
  if (charged === 'not at all') return 'It is not charged to jobs.';
  if (charged === 'by use')
    return usesPerContainer === null
      ? `It is charged by use${useAmount === null ? '' : `, ${sayMoney(useAmount, currency)} each`}.`
      : `It is charged by use: one is about 1/${usesPerContainer} of a container.`;
  const amounts = flat.flatMap(({ unitType, amount, from }) =>
    amount === null
      ? []
      : [`${sayMoney(amount, currency)} ${unitType === null ? 'for any type' : `for ${unitType.name}`} from ${sayDay(from)}`],
  );
  return `So much a job is charged by rule${amounts.length === 0 ? '' : `: ${amounts.join('; ')}`}.`;
}
