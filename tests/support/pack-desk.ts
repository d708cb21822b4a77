import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { WorkOrderId } from '@grainwright/domain';
import { expect, onTestFinished, vi } from 'vitest';
import { verifyEvidenceCommand } from '../../apps/cli/src/verify-evidence.ts';
import { readPdf } from '../../packages/documents/src/pdf/read-pdf.ts';
import { faultsOf, jsonIn, packOf, reportOf, unpacked } from './evidence-desk.ts';
import { runJobs } from './run-jobs.ts';
import { type Account, aBusiness, anAccount, type Business, type World } from './world.ts';

export interface Trade {
  readonly business: Business;
  readonly account: Account;
}

export interface BothPacks {
  readonly office: Buffer;
  readonly own: Buffer;
}

/** A business of its own with an account, and what packs of their work say. */
export function packDesk(world: World) {
  async function commandSays(pack: Buffer): Promise<{ readonly status: unknown; readonly words: string }> {
    const told = vi.spyOn(process.stdout, 'write').mockReturnValue(true);
    onTestFinished(() => told.mockRestore());
    const path = join(world.objects.temporaryDirectory, `${world.newId()}.zip`);
    await writeFile(path, pack);
    const answer = await verifyEvidenceCommand([path]);
    const words = told.mock.calls.flat().join('');
    told.mockRestore();
    return { status: answer.ok ? answer.value : answer.problem, words };
  }
  return {
    async aTrade(): Promise<Trade> {
      const business = await aBusiness(world);
      return { business, account: await anAccount(business, { limit: null }) };
    },
    /** What the command prints of a pack, and what it answers. */
    commandSays,
    /** The packs of both sides, each of which holds, for the command as well. */
    async bothHold({ business, account }: Trade, id: WorkOrderId): Promise<BothPacks> {
      await runJobs(world);
      const office = await packOf(world, business.office, id);
      const own = await packOf(world, account.viewer, id);
      for (const pack of [office, own]) {
        expect(faultsOf(await reportOf(pack))).toEqual([]);
        expect((await commandSays(pack)).status).toBe(0);
      }
      return { office, own };
    },
  };
}

/** What is written in a pack’s document. */
export async function wordsIn(pack: Buffer): Promise<string> {
  const { heard } = await readPdf(Buffer.from(unpacked(pack)['evidence.pdf'] ?? []));
  return heard.join('\n');
}

/** What a report tells besides what holds and what fails. */
export async function notesOf(pack: Buffer): Promise<string> {
  const { checks } = await reportOf(pack);
  return checks
    .filter(({ result }) => result === 'note')
    .map(({ sentence }) => sentence)
    .join('\n');
}

export function mediaOf(pack: Buffer): readonly Record<string, string | null>[] {
  return jsonIn(unpacked(pack), 'manifest.json').media;
}
