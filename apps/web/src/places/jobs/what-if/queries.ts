import { ReceiptList } from '@corewright/contracts/buying';
import { CoreAges } from '@corewright/contracts/core-ages';
import { JobList } from '@corewright/contracts/jobs';
import { WhatIf } from '@corewright/contracts/what-if';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../../api/client.js';
import type { ComboOption, ComboSource } from '../../../ui/combo-options.js';
import { sayDay } from '../../../ui/say-when.js';

/** What would be different if this were so; `suppose` as the address has it. */
export const whatIfQuery = (suppose: string) =>
  queryOptions({
    queryKey: ['jobs', 'what-if', suppose],
    queryFn: ({ signal }) => api.get(WhatIf, `/api/what-if?${new URLSearchParams({ suppose })}`, { signal }),
  });

/** A code as people read it, and as they key it to find it. */
function spaced(code: string): string {
  return `${code.slice(0, 1)} ${code.slice(1, -2)} ${code.slice(-2)}`;
}

const SHOWN_MAX = 40;

function matching(options: readonly ComboOption[], typed: string): readonly ComboOption[] {
  const bare = (text: string) => text.toLowerCase().replaceAll(/\s+/g, '');
  const begins = ({ label }: ComboOption) => bare(label).startsWith(bare(typed));
  return options
    .filter(({ label, note }) => bare(`${label}${note ?? ''}`).includes(bare(typed)))
    .toSorted((one, other) => Number(begins(other)) - Number(begins(one)))
    .slice(0, SHOWN_MAX);
}

export const findOpenJobs: ComboSource = async (typed, signal) => {
  const { jobs } = await api.get(JobList, '/api/jobs?open=yes&limit=200', { signal });
  return matching(jobs.map(jobOption), typed);
};

/** A job as the list offers it. */
export function jobOption({
  id,
  code,
  title,
  priority,
}: {
  id: string;
  code: string;
  title: string;
  priority: number;
}): ComboOption {
  return { id, label: `${spaced(code)} ${title}`, note: `priority ${priority}` };
}

export const findCores: ComboSource = async (typed, signal) => {
  const { cores } = await api.get(CoreAges, '/api/core-ages', { signal });
  return matching(
    cores.map(({ id, code, name, grade, where }) => ({
      id,
      label: `${spaced(code)} ${name}`,
      note: [grade === '' ? '' : `grade ${grade}`, where].filter((words) => words !== '').join(', '),
    })),
    typed,
  );
};

export const findOrders: ComboSource = async (typed, signal) => {
  const { receipts } = await api.get(ReceiptList, '/api/receipts?open=yes&limit=200', { signal });
  return matching(
    receipts.map(({ id, orderReference, supplier, part, dueOn }) => ({
      id,
      label: `${orderReference}, ${part.number || part.name}`,
      note: `${part.name}, ${supplier.name}, ${dueOn === null ? 'no date given' : `due ${sayDay(dueOn)}`}`,
    })),
    typed,
  );
};
