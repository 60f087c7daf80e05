import { Controller, Sse } from '@nestjs/common';
import { ApiExcludeEndpoint } from '@nestjs/swagger';
import { endWith, ignoreElements, interval, map, merge, type Observable, takeUntil } from 'rxjs';
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
    const { news } = this.relay;
    // A stream that beats on when the news have ended would keep the server from stopping.
    const beats = interval(beatMilliseconds).pipe(
      map(() => [] as string[]),
      takeUntil(news.pipe(ignoreElements(), endWith(null))),
    );
    return merge(news, beats).pipe(map((topics) => ({ data: { topics } })));
  }
}
