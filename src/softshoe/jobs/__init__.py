"""Jobs: long work in steps that finishes, resumes and repeats nothing."""
