# One image for the web process, the worker and the command line; which of them runs is the command's choice.
FROM node:24-bookworm-slim AS installed
WORKDIR /app
COPY package.json package-lock.json ./
COPY patches patches
COPY apps apps
COPY packages packages
RUN npm ci --omit=dev

FROM node:24-bookworm-slim
ENV NODE_ENV=production DATA_DIR=/data HOST=0.0.0.0
WORKDIR /app
COPY --from=installed /app ./
COPY migrations migrations
RUN mkdir /data && chown node:node /data
USER node
VOLUME /data
EXPOSE 8080
CMD ["node", "apps/cli/src/main.ts", "start", "--demo"]
