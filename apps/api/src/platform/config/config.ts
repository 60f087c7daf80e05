/** What names this machine to itself: nobody else reaches a server that listens there. */
export const loopback: ReadonlySet<string> = new Set(['127.0.0.1', '::1', 'localhost']);

/** Where photographs are kept, and how large one may be. */
export interface PhotographSettings {
  folder: string;
  megabytesMax: number;
}

/** How this server was started. Made once in `serve.ts` from arguments and environment, then only read. */
export class Config {
  constructor(
    readonly host: string,
    readonly port: number,
    /** folder of the embedded database and of the certificates */
    readonly dataFolder: string,
    readonly example: boolean,
    readonly tls: { cert: string; key: string } | null,
    /** folder of the built web app; null where it was not built */
    readonly webFolder: string | null,
    readonly version: string,
    readonly logLevel: string,
    readonly photographs: PhotographSettings,
  ) {}

  /** `__Host-` binds a cookie to this host and demands Secure; the port keeps two workshops on one machine apart. */
  get cookieName(): string {
    return `__Host-corewright-${this.port}`;
  }
}
