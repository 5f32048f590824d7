/** The channels of the test-coil procedure. */
export const procedureId = 'test-coil';
export const primaryChannel = 'primary-volts';
export const coilChannel = 'coil-volts';
