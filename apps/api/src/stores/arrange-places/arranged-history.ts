import { entriesBy, type HistorySource } from '../history/history-registry.js';

/**
 * The routes by which a place is changed, as the commands were recorded. What was recorded keeps the name that its route had: who renames one adds the new
 * name here and leaves the old one, or what was done by it is told no more.
 */
export const arrangingRoutes = [
  { route: 'PATCH /api/places/:id', act: 'edit' },
  { route: 'POST /api/places/:id/carrying', act: 'carrying' },
  { route: 'POST /api/places/:id/closing', act: 'closing' },
  { route: 'POST /api/places/:id/opening', act: 'opening' },
  { route: 'POST /api/places/:id/nicknames', act: 'called' },
] as const;

const routesSaid = arrangingRoutes.map(({ route, act }) => `('${route}', '${act}')`).join(', ');

/**
 * What a place was called, where it was carried, when it was closed and opened: it has no rows of its own, so it is told from the commands
 * and what came of them.
 */
export const arrangedHistory: HistorySource = {
  kind: 'arranged',
  words: 'Named, carried, closed',
  ofPlace: entriesBy(`
    SELECT key AS id, recorded_at AS at,
           CASE asked.act WHEN 'edit' THEN 'Named ' || (body->>'name') WHEN 'carrying' THEN 'Carried to ' || coalesce(nullif(body#>>'{place,path}', body#>>'{place,name}'), 'a place of its own')
                          WHEN 'closing' THEN 'Closed: it takes no goods'
                          WHEN 'called' THEN 'People look for it by: ' || (body->>'nicknames') ELSE 'Opened again' END AS title,
           CASE asked.act WHEN 'edit' THEN concat_ws(', ', body->>'kind', 'also called ' || nullif(body->>'nicknames', ''))
                          WHEN 'carrying' THEN coalesce('it stood in ' || (body#>>'{before,path}'), 'it stood by itself') ELSE '' END AS detail,
           person_id, NULL::uuid AS thing_id
      FROM (SELECT replace(route, ':id', id::text) AS route, act FROM unnest($1::uuid[]) AS of (id) CROSS JOIN (VALUES ${routesSaid}) AS arranging (route, act)) AS asked
      JOIN commands ON commands.route = asked.route AND commands.route LIKE '% /api/places/%' JOIN outcomes ON command_key = key AND status = 200`),
};
