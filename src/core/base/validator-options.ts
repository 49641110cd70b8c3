/** What every schema validator is made with; "verbose" keeps the offending value for the complaint. */
export const VALIDATOR_OPTIONS = { verbose: true, allowUnionTypes: true } as const;
