"""Which nets close runs: exact, over whole nets and whole millimetres."""
