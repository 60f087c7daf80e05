import { AcceptanceTerms, type EditAcceptanceTerms } from '@corewright/contracts/acceptance';
import type { Role } from '@corewright/contracts/base';
import { BuildStandardRules, type EditBuildStandard } from '@corewright/contracts/build-standards';
import { type EditGrade, Grade } from '@corewright/contracts/catalogue';
import { type EditFindingWord, type EditTypeComponent, FindingWord, TypeComponent } from '@corewright/contracts/cores';
import { type EditKnownNumbers, type EditSign, KnownBy, SignKept } from '@corewright/contracts/identify';
import { ImportUnderWay } from '@corewright/contracts/imports';
import { type EditLabelPrinter, LabelPrinter } from '@corewright/contracts/labels';
import { OneTimeLink, Person } from '@corewright/contracts/people';
import { WorkingCalendar } from '@corewright/contracts/planning';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import type * as z from 'zod';
import { api } from '../../api/client.js';
import { newKey } from '../../api/uuid.js';
import { buildStandardsQuery, calendarQuery, importUnderWayQuery, peopleQuery } from './queries.js';

const quoted = (version: number): string => `"${version}"`;

function useRefreshing<Input, Output>(act: (input: Input) => Promise<Output>, queryKey: readonly unknown[]) {
  const client = useQueryClient();
  return useMutation({ mutationFn: act, onSettled: () => client.invalidateQueries({ queryKey: [...queryKey] }) });
}

export type NewPerson = { readonly displayName: string; readonly signInName: string; readonly role: Role };

export const useAddPerson = () =>
  useRefreshing(
    (person: NewPerson) => api.send(Person, 'POST', '/api/people', { id: newKey(), ...person }),
    peopleQuery.queryKey,
  );

export const useEditPerson = () =>
  useRefreshing(
    ({ person, role, active }: { person: Person; role: Role; active: boolean }) =>
      api.send(
        Person,
        'PATCH',
        `/api/people/${person.id}`,
        { displayName: person.displayName, role, active },
        { ifMatch: quoted(person.version) },
      ),
    peopleQuery.queryKey,
  );

/** A link with which this person chooses a pass phrase; the full address, to be told or sent to them. */
export const useMakeLink = () =>
  useMutation({
    mutationFn: async (person: Person) => {
      const link = await api.send(OneTimeLink, 'POST', `/api/people/${person.id}/pass-phrase-link`, {});
      return { address: new URL(link.path, location.origin).href, expiresAt: link.expiresAt, person };
    },
  });

/** Stops an import; whoever sent it is told by its own answer. */
export const useStopImport = () =>
  useRefreshing((id: string) => api.send(ImportUnderWay, 'POST', `/api/imports/${id}/stop`, {}), importUnderWayQuery.queryKey);

export const usePutPrinter = () =>
  useRefreshing(
    ({ id, version, printer }: { id: string; version: number | null; printer: z.input<typeof EditLabelPrinter> }) =>
      api.send(LabelPrinter, 'PUT', `/api/label-printers/${id}`, printer, version === null ? {} : { ifMatch: quoted(version) }),
    ['settings', 'label-printers'],
  );

export const useEditBuildStandard = () =>
  useRefreshing(({ id, version, ways, sources, makes, gradeLeast }: BuildStandardRules) => {
    const rules: z.input<typeof EditBuildStandard> = { ways, sources, makes, gradeLeast };
    return api.send(BuildStandardRules, 'PATCH', `/api/build-standards/${id}`, rules, { ifMatch: quoted(version) });
  }, buildStandardsQuery.queryKey);

export const usePutFindingWord = () =>
  useRefreshing(
    ({ id, version, findingWord }: { id: string; version: number | null; findingWord: EditFindingWord }) =>
      api.send(FindingWord, 'PUT', `/api/finding-words/${id}`, findingWord, version === null ? {} : { ifMatch: quoted(version) }),
    ['settings', 'finding-words'],
  );

export const usePutGrade = () =>
  useRefreshing(
    ({ id, version, grade }: { id: string; version: number | null; grade: EditGrade }) =>
      api.send(Grade, 'PUT', `/api/grades/${id}`, grade, version === null ? {} : { ifMatch: quoted(version) }),
    ['settings', 'grades'],
  );

export const useEditTypeComponent = (typeId: string) =>
  useRefreshing(
    ({ position, version, rules }: { position: number; version: number; rules: EditTypeComponent }) =>
      api.send(TypeComponent, 'PATCH', `/api/unit-types/${typeId}/components/${position}`, rules, { ifMatch: quoted(version) }),
    ['settings', 'type-components'],
  );

export const usePutAcceptanceTerms = (typeId: string) =>
  useRefreshing(
    ({ version, terms }: { version: number; terms: EditAcceptanceTerms }) =>
      api.send(AcceptanceTerms, 'PUT', `/api/unit-types/${typeId}/acceptance`, terms, { ifMatch: quoted(version) }),
    ['settings', 'acceptance'],
  );

export const usePutSign = (typeId: string) =>
  useRefreshing(
    ({ id, version, sign }: { id: string; version: number | null; sign: EditSign }) =>
      api.send(
        SignKept,
        'PUT',
        `/api/unit-types/${typeId}/signs/${id}`,
        sign,
        version === null ? {} : { ifMatch: quoted(version) },
      ),
    ['settings', 'known-by'],
  );

export const usePutKnownNumbers = (typeId: string) =>
  useRefreshing(
    ({ version, numbers }: { version: number; numbers: EditKnownNumbers }) =>
      api.send(KnownBy, 'PUT', `/api/unit-types/${typeId}/numbers`, numbers, { ifMatch: quoted(version) }),
    ['settings', 'known-by'],
  );

export const useSetWeek = () =>
  useRefreshing(
    (weekMinutes: readonly number[]) => api.send(WorkingCalendar, 'PUT', '/api/calendar/week', { weekMinutes }),
    calendarQuery.queryKey,
  );

export const useCloseDay = () =>
  useRefreshing(
    (closed: { day: string; reason: string }) => api.send(WorkingCalendar, 'POST', '/api/calendar/closed-days', closed),
    calendarQuery.queryKey,
  );

export const useOpenDay = () =>
  useRefreshing(
    (day: string) => api.send(WorkingCalendar, 'POST', `/api/calendar/closed-days/${day}/open`, {}),
    calendarQuery.queryKey,
  );
