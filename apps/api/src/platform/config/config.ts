/** How this server was started. Made once in `main.ts` from arguments and environment, then only read. */
export class Config {
  constructor(
    readonly host: string,
    readonly port: number,
    /** folder of the embedded database and of nothing else */
    readonly dataFolder: string,
    readonly example: boolean,
    readonly tls: { cert: string; key: string } | null,
    /** folder of the built web app; null where it was not built */
    readonly webFolder: string | null,
    readonly version: string,
    readonly logLevel: string,
  ) {}

  /** `__Host-` binds a cookie to this host and demands Secure; the port keeps two workshops on one machine apart. */
  get cookieName(): string {
    return `__Host-corewright-${this.port}`;
  }

  get isLoopback(): boolean {
    return ['127.0.0.1', '::1', 'localhost'].includes(this.host);
  }

  get origin(): string {
    return `${this.tls ? 'https' : 'http'}://${this.isLoopback ? 'localhost' : this.host}:${this.port}`;
  }
}
