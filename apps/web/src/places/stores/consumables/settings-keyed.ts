import type { Charging, ConsumableSettings, KeepConsumable } from '@corewright/contracts/consumables';
import type * as z from 'zod';

/** How a part goes by the container, as a person keys it. */
export interface SettingsKeyed {
  container: string;
  keepsDays: string;
  oneAtATime: boolean;
  charged: Charging;
  useAmount: string;
  usesPerContainer: string;
  /** so much a job of any type that has no amount of its own */
  flatForAll: string;
  flatByType: readonly { unitTypeId: string; amount: string }[];
  flatFrom: string;
}

export const noSettingsKeyed: SettingsKeyed = {
  container: '',
  keepsDays: '',
  oneAtATime: true,
  charged: 'by use',
  useAmount: '',
  usesPerContainer: '',
  flatForAll: '',
  flatByType: [],
  flatFrom: '',
};

/** What stands, ready to be keyed over. */
export function keyedOf(settings: ConsumableSettings): SettingsKeyed {
  const { container, keepsDays, oneAtATime, charged, useAmount, usesPerContainer, flat } = settings;
  return {
    container,
    keepsDays: keepsDays?.toString() ?? '',
    oneAtATime,
    charged,
    useAmount: useAmount ?? '',
    usesPerContainer: usesPerContainer?.toString() ?? '',
    flatForAll: flat.find(({ unitType }) => unitType === null)?.amount ?? '',
    flatByType: flat.flatMap(({ unitType, amount }) =>
      unitType === null ? [] : [{ unitTypeId: unitType.id, amount: amount ?? '' }],
    ),
    flatFrom: flat[0]?.from ?? '',
  };
}

export type SettingsFault = 'container' | 'keepsDays' | 'usesPerContainer';

/** What is sent of it; null with what is wrong where it cannot be. Whether amounts are read is for the server to say. */
export function settingsSent(keyed: SettingsKeyed): { sent: z.input<typeof KeepConsumable> } | { fault: SettingsFault } {
  if (keyed.container.trim() === '') return { fault: 'container' };
  const keepsDays = wholeOf(keyed.keepsDays);
  if (keepsDays === undefined) return { fault: 'keepsDays' };
  const isByUse = keyed.charged === 'by use';
  const usesPerContainer = isByUse ? wholeOf(keyed.usesPerContainer) : null;
  if (usesPerContainer === undefined) return { fault: 'usesPerContainer' };
  const all = keyed.flatForAll.trim() === '' ? [] : [{ unitTypeId: null, amount: keyed.flatForAll }];
  const byType = keyed.flatByType.filter(({ unitTypeId, amount }) => unitTypeId !== '' && amount.trim() !== '');
  return {
    sent: {
      container: keyed.container.trim(),
      keepsDays,
      oneAtATime: keyed.oneAtATime,
      charged: keyed.charged,
      useAmount: isByUse ? keyed.useAmount : '',
      usesPerContainer,
      flat: keyed.charged === 'flat' ? [...all, ...byType] : [],
      flatFrom: keyed.charged === 'flat' && keyed.flatFrom !== '' ? keyed.flatFrom : null,
    },
  };
}

/** A whole number of 1 or more; null where nothing is keyed, undefined where it is no such number. */
function wholeOf(text: string): number | null | undefined {
  if (text.trim() === '') return null;
  return /^[1-9]\d{0,4}$/.test(text.trim()) ? Number(text.trim()) : undefined;
}
