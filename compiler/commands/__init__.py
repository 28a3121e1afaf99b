"""The commands, one file each: `options` says what may stand behind it, `run` carries it out."""
