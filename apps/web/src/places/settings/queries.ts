import { AcceptanceTerms } from '@corewright/contracts/acceptance';
import { BuildStandardList } from '@corewright/contracts/build-standards';
import { UnitTypeList } from '@corewright/contracts/catalogue';
import { TypeComponentList } from '@corewright/contracts/cores';
import { KnownBy } from '@corewright/contracts/identify';
import { ImportUnderWay } from '@corewright/contracts/imports';
import { People } from '@corewright/contracts/people';
import { WorkingCalendar } from '@corewright/contracts/planning';
import { queryOptions } from '@tanstack/react-query';
import { api } from '../../api/client.js';

export const peopleQuery = queryOptions({
  queryKey: ['people'],
  queryFn: ({ signal }) => api.get(People, '/api/people', { signal }),
});

export const importUnderWayQuery = queryOptions({
  queryKey: ['imports', 'under way'],
  queryFn: ({ signal }) => api.get(ImportUnderWay, '/api/imports/under-way', { signal }),
});

export const calendarQuery = queryOptions({
  queryKey: ['settings', 'calendar'],
  queryFn: ({ signal }) => api.get(WorkingCalendar, '/api/calendar', { signal }),
});

export const unitTypesQuery = queryOptions({
  queryKey: ['settings', 'unit-types'],
  queryFn: ({ signal }) => api.get(UnitTypeList, '/api/unit-types?q=', { signal }),
});

export const buildStandardsQuery = queryOptions({
  queryKey: ['settings', 'build-standards'],
  queryFn: ({ signal }) => api.get(BuildStandardList, '/api/build-standards', { signal }),
});

export const typeComponentsQuery = (typeId: string) =>
  queryOptions({
    queryKey: ['settings', 'type-components', typeId],
    queryFn: ({ signal }) => api.get(TypeComponentList, `/api/unit-types/${typeId}/components`, { signal }),
  });

/** What is asked of a core of a type. */
export const acceptanceTermsQuery = (typeId: string) =>
  queryOptions({
    queryKey: ['settings', 'acceptance', typeId],
    queryFn: ({ signal }) => api.get(AcceptanceTerms, `/api/unit-types/${typeId}/acceptance`, { signal }),
  });

/** What one type is known by, with what was withdrawn. */
export const knownByQuery = (typeId: string) =>
  queryOptions({
    queryKey: ['settings', 'known-by', typeId],
    queryFn: ({ signal }) => api.get(KnownBy, `/api/unit-types/${typeId}/known-by`, { signal }),
  });
