import type { Named } from './holdings.ts';
import type { SampleRequests } from './sample-request.ts';

const ofWork = ({ accepted }: Named) => ({ params: { id: accepted } });

/** The evidence of work that was approved and accepted, and sealed since. */
export const evidencePackApiRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /api/v1/work-orders/:id/evidence.pdf': ofWork,
  'GET /api/v1/work-orders/:id/evidence.zip': ofWork,
};

export const evidencePackPageRequests: Readonly<Record<string, SampleRequests>> = {
  'GET /field/work-orders/:id/evidence.pdf': ofWork,
  'GET /field/work-orders/:id/evidence.zip': ofWork,
  'GET /office/work-orders/:id/evidence.pdf': ofWork,
  'GET /office/work-orders/:id/evidence.zip': ofWork,
  'GET /account/work-orders/:id/evidence.pdf': ofWork,
  'GET /account/work-orders/:id/evidence.zip': ofWork,
};
