import { Controller, Sse } from '@nestjs/common';
import { ApiExcludeEndpoint } from '@nestjs/swagger';
import { interval, map, merge, type Observable } from 'rxjs';
import { Allow, everyone } from '../access/signed-in.js';
import { NewsRelay } from './news-relay.js';

/** Proxies cut a silent stream after a minute or so. */
const beatMilliseconds = 25_000;

@Controller('events')
export class EventsController {
  constructor(private readonly relay: NewsRelay) {}

  @Sse()
  @Allow(everyone)
  @ApiExcludeEndpoint()
  events(): Observable<{ data: { topics: string[] } }> {
    const beats = interval(beatMilliseconds).pipe(map(() => [] as string[]));
    return merge(this.relay.news, beats).pipe(map((topics) => ({ data: { topics } })));
  }
}
