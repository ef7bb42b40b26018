"""An open farm: its writer, its publishing, its computed ground."""
