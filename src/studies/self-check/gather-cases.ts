import { InputError } from '../../errors.js';
import type { PublishedFile } from '../../records/published-cases.js';
import type { ReferenceCase } from '../../uncertainty/reference-case/reference-case.js';
import type {
  CalibrationCase,
  DaysCase,
  LineCase,
  OwnCase,
  PrecisionCase,
  PublishedCases,
} from './published-case.js';

const generic: readonly string[] = ['budget', 'conformance probability', 'acceptance limit', 'global risk'];
const own: readonly string[] = [
  'water density',
  'air density sensitivities',
  'detection factors',
  'abridged atomic weights',
  'oxide factors',
];

/** Folders of `data/reference` that the self-check reads. */
export const selfCheckTopics = ['uncertainty', 'quantities', 'chain', 'statistics'] as const;

/**
 * The cases of the self-check from the files of `data/reference`. The files are the project's own, and tests hold their form.
 *
 * @throws InputError a file the self-check needs is missing
 */
export function gatherCases(files: readonly PublishedFile[]): PublishedCases {
  const calculationOf = ({ content }: PublishedFile) =>
    (content as { calculation?: string }).calculation ?? '';
  const named = <T>(path: string): T => {
    const file = files.find((f) => f.path === path);
    if (file === undefined)
      throw new InputError(`data/reference/${path}: expected for the self-check, found none`);
    return file.content as T;
  };
  return {
    generic: files.filter((f) => generic.includes(calculationOf(f))).map((f) => f.content as ReferenceCase),
    own: files.filter((f) => own.includes(calculationOf(f))).map((f) => f.content as OwnCase),
    precision: named<PrecisionCase>('statistics/iso5725-sulfur-in-coal.json'),
    line: named<LineCase>('statistics/gum-h3-thermometer-calibration.json'),
    days: named<DaysCase>('statistics/gum-h5-zener-analysis-of-variance.json'),
    calibration: named<CalibrationCase>('statistics/quam-a5-cadmium-calibration.json'),
  };
}
