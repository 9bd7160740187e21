import type { FolderContent } from '../../records/atomic-write.js';
import { sha256 } from '../../records/checksum.js';

/** One file of an issue. */
export interface ManifestFile {
  readonly path: string;
  readonly bytes: number;
  readonly sha256: string;
}

/** What an issue was made from and with; everything a repetition needs. */
export interface IssueOrigin {
  /** Date and time of the run, ISO 8601; the caller reads the clock. */
  readonly created: string;
  /** Versions of the engine, of Node and of the packages used. */
  readonly versions: Readonly<Record<string, string>>;
  readonly seed: number | null;
  /** Parameters of the run, as JSON values. */
  readonly parameters: Readonly<Record<string, unknown>>;
  /** Records that went in, with their hashes. */
  readonly records: readonly ManifestFile[];
}

/** `manifest.json` of an issue: every file with its hash, and where they come from. */
export interface Manifest extends IssueOrigin {
  readonly schema: 'meltbook issue 1';
  readonly study: string;
  readonly number: string;
  readonly files: readonly ManifestFile[];
}

/** Name of the manifest in the folder of an issue. */
export const manifestName = 'manifest.json';

function bytesOf(content: Uint8Array | string): Uint8Array {
  return typeof content === 'string' ? Buffer.from(content, 'utf8') : content;
}

/** The files of an issue as the manifest lists them, in order of their paths. */
export function manifestFiles(content: FolderContent): ManifestFile[] {
  return Object.entries(content)
    .map(([path, text]) => ({ path, bytes: bytesOf(text).byteLength, sha256: sha256(bytesOf(text)) }))
    .sort((first, second) => (first.path < second.path ? -1 : 1));
}
