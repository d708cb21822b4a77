import { Logger } from 'graphile-worker';

/** The job library's warnings and errors, a line each on stderr; what goes well is not worth a line. */
export const jobLog = new Logger(({ label, taskIdentifier, jobId }) => (level, message) => {
  if (level !== 'warning' && level !== 'error') return;
  const about = [label, taskIdentifier, jobId].filter((part) => part !== undefined).join(' ');
  process.stderr.write(`${level} ${about}: ${message}\n`);
});
