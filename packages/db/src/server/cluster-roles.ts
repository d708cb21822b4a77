import postgres, { type Sql } from 'postgres';
import { jobRole, loginRole } from '../login-password.ts';
import { scramVerifier } from './scram-verifier.ts';

/** What the login may become for a transaction. It inherits nothing from them: it has to say which it is. */
const transactionRoles = [
  'grainwright_staff',
  'grainwright_account',
  'grainwright_vehicle_owner',
  'grainwright_link',
  'grainwright_worker',
  'grainwright_registry',
];

const ownerRole = 'grainwright_owner';
const backupRole = 'grainwright_backup';
const attemptsMax = 50;

/**
 * Makes the roles of the whole server (not of one database) and sets the login's password. Safe to repeat, and
 * safe beside another process that does the same: Postgres then refuses one of the two, which tries again.
 */
export async function ensureClusterRoles(sql: Sql, passwords: LoginPasswords): Promise<void> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      await sql.begin((transaction) => transaction.unsafe(statements(passwords)));
      return;
    } catch (error) {
      if (!lostRace(error) || attempt === attemptsMax) throw error;
    }
  }
}

/** 42710 and 23505: made by the other process in between. 40P01: each waited for the other. */
function lostRace(error: unknown): boolean {
  if (!(error instanceof postgres.PostgresError)) return false;
  return (
    ['42710', '23505', '40P01'].includes(error.code) ||
    /tuple concurrently (updated|deleted)/.test(error.message)
  );
}

/** Of the two roles that may sign in. */
export interface LoginPasswords {
  readonly login: string;
  readonly jobs: string;
}

function statements(passwords: LoginPasswords): string {
  const plain = [ownerRole, backupRole, ...transactionRoles].map((role) => create(role, 'nologin'));
  return [
    ...plain,
    ...createLogin(loginRole, passwords.login),
    ...createLogin(jobRole, passwords.jobs),
    bypassForBackup,
    ...transactionRoles.map(grantToLogin),
    allowConnect(loginRole),
    allowConnect(jobRole),
  ].join('\n');
}

function create(role: string, attributes: string): string {
  return `do $$ begin
    if not exists (select from pg_roles where rolname = '${role}') then create role ${role} ${attributes}; end if;
  end $$;`;
}

function createLogin(role: string, password: string): readonly string[] {
  return [
    create(role, 'login noinherit'),
    `alter role ${role} login noinherit password '${scramVerifier(password)}';`,
  ];
}

function grantToLogin(role: string): string {
  return `do $$ begin
    if not exists (
      select from pg_auth_members
      where roleid = '${role}'::regrole and member = '${loginRole}'::regrole and set_option and not inherit_option
    ) then
      grant ${role} to ${loginRole} with inherit false, set true;
    end if;
  end $$;`;
}

/** Only who has BYPASSRLS may give it; elsewhere a backup is made with the administrator's own means. */
const bypassForBackup = `do $$ begin
    if exists (select from pg_roles where rolname = current_user and (rolsuper or rolbypassrls))
      and not (select rolbypassrls from pg_roles where rolname = '${backupRole}')
    then
      alter role ${backupRole} bypassrls;
    end if;
  end $$;`;

/** Everybody may connect unless the administrator has taken that right away from PUBLIC. */
function allowConnect(role: string): string {
  return `do $$ begin
    if not has_database_privilege('${role}', current_database(), 'connect') then
      execute format('grant connect on database %I to ${role}', current_database());
    end if;
  end $$;`;
}
