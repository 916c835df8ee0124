/** Where a bench lives; filled in once by the host, so that nothing else guesses folders. */
export interface BenchPaths {
  /** Holds the database, its lock and the fault log. */
  readonly dataFolder: string;
  readonly databaseFile: string;
  readonly backupFolder: string;
  /** Where workbooks go when nobody is asked. */
  readonly exportFolder: string;
}
