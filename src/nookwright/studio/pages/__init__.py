"""The pages of the studio, one a stage of the job."""
