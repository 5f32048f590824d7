import { failed } from '../../src-shared/contract/failure.ts';

const kept = 'Nothing of it is left, and the record is as it was.';

/** What the system says of a file that could not be written, as a failure for the person; null when it is no such thing. */
export function fileFailure(error: unknown, folder: string): ReturnType<typeof failed> | null {
  if (!(error instanceof Error) || !('code' in error) || !('syscall' in error)) return null;
  switch (error.code) {
    case 'ENOSPC':
    case 'EDQUOT':
      return failed(
        'disk-full',
        `The disk with ${folder} is full: the file was not made. ${kept} Make room and try again.`,
      );
    case 'ENOENT':
    case 'ENOTDIR':
      return failed(
        'store-unwritable',
        `The folder ${folder} is not there: the file was not made. ${kept} Bring it back and try again.`,
      );
    case 'EACCES':
    case 'EPERM':
    case 'EROFS':
      return failed(
        'store-unwritable',
        `The folder ${folder} takes no files from this program: the file was not made. ${kept} Choose another place, or let it write there.`,
      );
    default:
      return failed('store-unwritable', `The file could not be written: ${error.message}. ${kept}`);
  }
}

/** The same for anything that was thrown; what is no failure of the system is told in its own words. */
export function putFailure(error: unknown, folder: string): ReturnType<typeof failed> {
  const why = error instanceof Error ? error.message : String(error);
  return (
    fileFailure(error, folder) ??
    failed('store-unwritable', `The file could not be put into ${folder}: ${why}. ${kept}`)
  );
}
