/**
 * Whether an error of the system bears a code, such as `ENOENT` where there is no such file.
 * @example
 * isErrorWithCode(Object.assign(new Error('gone'), { code: 'ENOENT' }), 'ENOENT') // => true
 */
export function isErrorWithCode(error: unknown, code: string): boolean {
  return error instanceof Error && 'code' in error && error.code === code;
}
