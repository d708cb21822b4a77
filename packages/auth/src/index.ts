export {
  hashLinkSecret,
  linkKey,
  linkSecret,
  linkToken,
  type ReadLinkToken,
  readLinkToken,
} from './access-links.ts';
export { hashJoinCode, newJoinCode } from './join-codes.ts';
export { hashPassword, passwordFits, passwordWeakness } from './passwords.ts';
export { sealKeySalt, sealKeySeed } from './seal-keys.ts';
export {
  openSessions,
  type Session,
  type SessionStore,
  type Sessions,
  type StoredSession,
} from './sessions.ts';
